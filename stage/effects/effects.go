package effects

import (
	"context"
	"math"

	"scalewright/craft/circuit"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
)

// Run works out lights and sound; a build without any has none.
func Run(_ context.Context, in Input) (model.Effects, finding.List, error) {
	var out model.Effects
	if len(in.Components)+len(in.Shows) == 0 {
		return out, nil, nil
	}
	w := work{Input: in}
	w.roles()
	found := w.lacking()
	w.supply(&out)
	found.Add(w.program(&out)...)
	found.Add(w.draws(&out)...)
	w.fuse(&out)
	for _, wire := range circuit.Wires(in.Components) {
		run, f := w.wire(wire, out)
		out.Wires = append(out.Wires, run)
		found.Add(f...)
		if wire.Carries == model.Power && wire.From == out.Supply {
			out.Least = math.Min(out.Least, railLeast-run.Drop)
		}
	}
	if road := w.road(&out); !found.Blocked() {
		found.Add(road...)
	}
	return out, found, nil
}

type work struct {
	Input
	controller *model.Component
	strips     []model.Component
	buttons    []model.Component
	player     *model.Component
	feeds      model.Component
	fed        bool
	pixels     int
}

func (w *work) roles() {
	first := func(role stock.Role) *model.Component {
		if all := circuit.Of(w.Components, role); len(all) > 0 {
			return &all[0]
		}
		return nil
	}
	w.controller, w.player = first(stock.Controller), first(stock.Player)
	w.strips, w.buttons = circuit.Of(w.Components, stock.Strip), circuit.Of(w.Components, stock.Button)
	for _, s := range w.strips {
		w.pixels += s.Pixels
	}
	w.feeds, w.fed = circuit.Supply(w.Components)
}

// lacking says what cannot work for want of another component.
func (w *work) lacking() finding.List {
	var found finding.List
	if !w.fed && len(w.Components) > 0 {
		found.Add(finding.New("no-supply", w.Components[0].At, nil))
	}
	switch driven := append(append([]model.Component(nil), w.strips...), w.buttons...); {
	case w.controller != nil:
	case len(driven) > 0:
		found.Add(finding.New("no-controller", driven[0].At, nil))
	case len(w.Shows) > 0:
		found.Add(finding.New("no-controller", w.Shows[0].At, nil))
	}
	speakers, amplifiers := circuit.Of(w.Components, stock.Speaker), circuit.Of(w.Components, stock.Amplifier)
	switch spare := len(speakers) - len(amplifiers); {
	case len(speakers) > 0 && len(amplifiers) == 0:
		found.Add(finding.New("no-amplifier", speakers[0].At, finding.Args{"speaker": finding.Name(speakers[0].ID)}))
	case spare > 0:
		last, kind := speakers[len(speakers)-1], speakers[0].Kind
		found.Add(finding.New("speakers-many", last.At, finding.Args{
			"speakers": finding.Count(spare + 1), "amplifier": finding.Name(amplifiers[len(amplifiers)-1].ID),
			"ohm": finding.Number(kind.Ohm), "left": finding.Number(math.Round(10*kind.Ohm/float64(spare+1)) / 10),
		}))
	}
	return found
}

func (w *work) component(id string) (model.Component, bool) {
	for _, c := range w.Components {
		if c.ID == id {
			return c, true
		}
	}
	return model.Component{}, false
}
