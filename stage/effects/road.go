package effects

import (
	"math"

	"scalewright/craft/circuit"
	"scalewright/craft/electric"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
)

// road is how long banks last at the shows' mix.
func (w *work) road(out *model.Effects) finding.List {
	idle, mix := w.mix(*out)
	var found finding.List
	for _, b := range circuit.Of(w.Components, stock.Bank) {
		r := model.RoadSupply{Component: b.ID, IdleMA: idle, SwitchOff: idle < keepsOnMA}
		if r.SwitchOff {
			r.KeepOnMA = keepOnMA
			found.Add(finding.New("bank-sleeps", b.At, finding.Args{
				"bank": finding.Name(b.ID), "idle": finding.Number(math.Round(idle)), "least": finding.Number(keepsOnMA), "costs": finding.Number(keepOnMA),
			}))
		}
		if mean := mix + r.KeepOnMA; mean > 0 {
			r.Hours = electric.AmpereHours(b.Kind.WattHours, efficiency, railVolts) / (mean / 1000)
		}
		out.Road = append(out.Road, r)
		if w.Site != nil && w.feeds.ID == b.ID && r.Hours < w.Site.Hours {
			asked := w.Site.Hours * (mix + r.KeepOnMA) / 1000 * railVolts / efficiency
			found.Add(finding.New("bank-short", b.At, finding.Args{
				"bank": finding.Name(b.ID), "hours": finding.Number(math.Floor(r.Hours*10) / 10), "asked": finding.Number(w.Site.Hours),
				"energy": finding.Number(math.Ceil(asked)), "has": finding.Number(b.Kind.WattHours),
			}))
		}
	}
	return found
}

// mix is what is drawn while nothing is asked for, and in the mean of a day, mA.
func (w *work) mix(all model.Effects) (idle, mix float64) {
	for _, d := range all.Draws {
		idle += d.Idle
	}
	played, n := 0.0, 0
	for i, s := range all.Shows {
		if all.Program.Shows[i].Button < 0 {
			idle = s.Mean
			continue
		}
		played += s.Mean
		n++
	}
	if n == 0 {
		return idle, idle
	}
	return idle, (1-playShare)*idle + playShare*played/float64(n)
}
