package effects

import (
	"fmt"
	"math"
	"slices"

	"scalewright/craft/electric"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
)

// wire gives a wire its gauge and its two ends.
func (w *work) wire(wire model.Wire, all model.Effects) (model.WireRun, finding.List) {
	run := model.WireRun{Wire: wire, Length: noWay}
	for _, way := range w.Places.Ways {
		if way.Wire == wire.ID {
			run.Length = way.Length
		}
	}
	run.Amps = w.carries(wire, all) / 1000
	gauges := stock.Gauges()
	var found finding.List
	run.Gauge = gauges[0].AWG
	for _, g := range slices.Backward(gauges) { // the thinnest first
		drop := electric.Drop(g.AWG, float64(run.Length), run.Amps, inBody)
		if g.BundleA >= run.Amps && (wire.Carries != model.Power || drop <= dropShare*railVolts) && g.AWG <= thinnest {
			run.Gauge = g.AWG
			break
		}
	}
	run.Drop = electric.Drop(run.Gauge, float64(run.Length), run.Amps, inBody)
	if wire.Carries == model.Power && run.Drop > dropShare*railVolts {
		c, _ := w.component(wire.To)
		found.Add(finding.New("wire-drops", c.At, finding.Args{
			"wire": finding.Name(wire.ID), "long": finding.Long(run.Length), "drop": finding.Number(math.Round(run.Drop*100) / 100),
			"gauge": finding.Count(run.Gauge), "limit": finding.Number(dropShare * railVolts),
		}))
	}
	run.FromPin, run.ToPin, run.Note = w.ends(wire)
	return run, found
}

const (
	railVolts = 5.0
	thinnest  = 26 // AWG: thinner breaks in the hand, common practice
)

// carries is the largest current in a wire, mA.
func (w *work) carries(wire model.Wire, all model.Effects) float64 {
	most := func(id string) float64 {
		for _, d := range all.Draws {
			if d.Component == id {
				return d.Most
			}
		}
		return 0
	}
	switch wire.Carries {
	case model.Power:
		if c, ok := w.component(wire.From); ok && c.Kind.Role == stock.Bank && wire.From != all.Supply {
			return all.Most
		}
		return most(wire.To)
	case model.Sound:
		// A class-D stage gives its current at most at the rail: P = V·I.
		return most(wire.From)
	case model.Data, model.Switch:
	}
	return 5 // a logic line
}

func (w *work) component(id string) (model.Component, bool) {
	for _, c := range w.Components {
		if c.ID == id {
			return c, true
		}
	}
	return model.Component{}, false
}

// ends are what a wire is soldered to, and what to put there.
func (w *work) ends(wire model.Wire) (from, to, note string) {
	a, _ := w.component(wire.From)
	b, _ := w.component(wire.To)
	switch {
	case wire.Carries == model.Power && b.Kind.Role == stock.Strip:
		return "+5 V, GND", "+5 V, GND", "1000 µF across the strip's input; ground first, off last"
	case wire.Carries == model.Power && a.Kind.Role == stock.Bank:
		return "USB", "the inlet, in the adapter's place", "never both at once"
	case wire.Carries == model.Power:
		return "+5 V, GND", "+5 V, GND", "one ground for all"
	case b.Kind.Role == stock.Strip:
		return "D6, GND", "DIN, GND", "330 to 470 Ω at the first pixel"
	case a.Kind.Role == stock.Button:
		return "both contacts", fmt.Sprintf("D%d, GND", 8+w.buttonAt(a.ID)), "closes to ground; the pull-up is inside"
	case a.Kind.Role == stock.Controller:
		return "A0 to A3, GND", "the triggers, GND", "1 kΩ in each line; only pulled low"
	case a.Kind.Role == stock.Player:
		return "sound out, GND", "in, GND", ""
	}
	return "out +, out −", "both tags", "never ground a speaker lead"
}

func (w *work) buttonAt(id string) int {
	return slices.IndexFunc(w.buttons, func(b model.Component) bool { return b.ID == id })
}
