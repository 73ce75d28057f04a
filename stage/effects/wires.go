package effects

import (
	"math"
	"slices"

	"scalewright/craft/electric"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// wire gives a wire its gauge and its two ends.
func (w *work) wire(wire model.Wire, all model.Effects) (model.WireRun, finding.List) {
	run := model.WireRun{Wire: wire, Colours: colours(wire)}
	run.Length, run.Guessed = w.length(wire)
	run.Amps = w.carries(wire, all) / 1000
	need := w.needs(wire, all)
	gauges := stock.Gauges()
	run.Gauge = gauges[0].AWG
	for _, g := range slices.Backward(gauges) { // the thinnest first
		drop := electric.Drop(g.AWG, float64(run.Length), run.Amps, all.Celsius)
		if g.AWG <= thinnest && g.BundleA >= run.Amps && g.ChassisA >= need.fault && drop <= need.drop {
			run.Gauge = g.AWG
			break
		}
	}
	run.Drop = electric.Drop(run.Gauge, float64(run.Length), run.Amps, all.Celsius)
	run.FromPin, run.ToPin, run.Note = w.ends(wire)
	return run, w.loses(run)
}

// need is what a wire must bear: a fault's current, A, and how much it may lose,
// V.
type need struct{ fault, drop float64 }

func (w *work) needs(wire model.Wire, all model.Effects) need {
	switch wire.Carries {
	case model.Power:
		return need{fault(all), dropShare * railVolts}
	case model.Sound:
		if b, ok := w.component(wire.To); ok && b.Kind.Role == stock.Speaker && b.Kind.Ohm > 0 {
			return need{0, soundDrop * w.carries(wire, all) / 1000 * b.Kind.Ohm}
		}
	case model.Data, model.Switch:
	}
	return need{0, math.Inf(1)}
}

// loses says what a wire of power loses too much.
func (w *work) loses(run model.WireRun) finding.List {
	if run.Wire.Carries != model.Power || run.Drop <= dropShare*railVolts {
		return nil
	}
	code, limit := finding.Code("wire-drops"), dropShare
	if run.Drop > dropMost*railVolts {
		code, limit = "wire-starves", dropMost
	}
	c, _ := w.component(run.Wire.To)
	hundredth := func(v float64) finding.Number { return finding.Number(math.Round(v*100) / 100) }
	return finding.List{finding.New(code, c.At, finding.Args{
		"wire": finding.Name(run.Wire.ID), "long": finding.Long(run.Length), "drop": hundredth(run.Drop), "gauge": finding.Count(run.Gauge),
		"limit": hundredth(limit * railVolts), "left": hundredth(math.Max(0, railLeast-run.Drop)),
	})}
}

// length of a wire: its way's, else the distance along the axis with the same
// slack, else a metre.
func (w *work) length(wire model.Wire) (long unit.Length, guessed bool) {
	for _, way := range w.Places.Ways {
		if way.Wire == wire.ID {
			return way.Length, false
		}
	}
	from, knownFrom := w.station(wire.From)
	to, knownTo := w.station(wire.To)
	if !knownFrom || !knownTo {
		return noWay, true
	}
	return unit.Length(math.Abs(from-to)*(1+slackShare) + slackLoop), true
}

func (w *work) station(id string) (float64, bool) {
	if b, ok := w.Places.Bay(id); ok {
		return float64(b.Centre[2]), true
	}
	c, ok := w.component(id)
	return float64(c.Station), ok && c.Placed
}

// carries is the largest current in a wire, mA.
func (w *work) carries(wire model.Wire, all model.Effects) float64 {
	from, _ := w.component(wire.From)
	to, _ := w.component(wire.To)
	switch wire.Carries {
	case model.Power:
		if from.Kind.Role == stock.Bank && wire.From != all.Supply {
			return all.Most
		}
		for _, d := range all.Draws {
			if d.Component == wire.To {
				return d.Most
			}
		}
	case model.Sound:
		if to.Kind.Role == stock.Speaker && to.Kind.Ohm > 0 {
			return 1000 * electric.Speaker(switching*from.Kind.Volts*from.Kind.Most/1000, to.Kind.Ohm)
		}
	case model.Data, model.Switch:
	}
	return 1000 * logicAmps
}
