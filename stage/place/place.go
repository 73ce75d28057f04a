package place

import (
	"cmp"
	"context"
	"slices"

	"scalewright/craft/circuit"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
)

// Run finds the bays and the ways.
func Run(ctx context.Context, in Input) (model.Places, finding.List, error) {
	w := work{Input: in, all: in.rooms(), necks: in.necks(), wires: circuit.Wires(in.Design.Components)}
	w.things = in.things()
	var found finding.List
	for _, c := range w.order() {
		if err := ctx.Err(); err != nil {
			return model.Places{}, found, err
		}
		if c.Kind.Role == stock.Bank && c.Service == model.Sealed {
			found.Add(finding.New("battery-sealed", c.At, finding.Args{"component": finding.Name(c.ID)}).About(c.Part))
		}
		if c.Kind.Role == stock.Speaker && c.Opening == "" {
			found.Add(finding.New("speaker-shut-in", c.At, finding.Args{
				"component": finding.Name(c.ID), "hole": finding.Size(c.Kind.Hole),
			}).About(c.Part))
		}
		bay, f := w.put(c)
		found.Add(f...)
		if f.Blocked() {
			continue
		}
		w.bays = append(w.bays, bay)
		found.Add(w.unreached(c, bay)...)
	}
	var out model.Places
	for _, c := range in.Design.Components {
		for _, b := range w.bays {
			if b.Component == c.ID {
				out.Bays = append(out.Bays, b)
			}
		}
	}
	if !found.Blocked() {
		ways, f := w.ways(out)
		out.Ways = ways
		found.Add(f...)
	}
	return out, found, nil
}

type work struct {
	Input
	all    []room
	necks  []neck
	wires  []model.Wire
	things []model.Bay // parts that lie inside
	bays   []model.Bay
}

// order is what sits in an opening first, then what has a wished place, then the
// largest.
func (w *work) order() []model.Component {
	rank := func(c model.Component) int {
		switch {
		case c.Opening != "":
			return 0
		case c.Placed:
			return 1
		}
		return 2
	}
	bulk := func(c model.Component) float64 { return float64(c.Kind.Size[0] * c.Kind.Size[1] * c.Kind.Size[2]) }
	var all []model.Component
	for _, c := range w.Design.Components {
		if c.Service != model.Outside {
			all = append(all, c)
		}
	}
	slices.SortStableFunc(all, func(a, b model.Component) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(bulk(b), bulk(a)))
	})
	return all
}

// put finds a component its bay.
func (w *work) put(c model.Component) (model.Bay, finding.List) {
	if !slices.ContainsFunc(w.all, func(r room) bool { return r.part == c.Part }) {
		return model.Bay{}, finding.List{finding.New("not-hollow", c.At, finding.Args{"component": finding.Name(c.ID)}).About(c.Part)}
	}
	switch {
	case c.Kind.Role == stock.Strip:
		return w.wind(c)
	case c.Opening != "":
		return w.behind(c)
	case c.Placed:
		return w.wished(c)
	}
	if b, ok := w.search(c, w.far); ok {
		return b, nil
	}
	return model.Bay{}, w.noRoom(c)
}

// noRoom says how large a box of a component's shape its part has room for.
func (w *work) noRoom(c model.Component) finding.List {
	size := sizeOf(c)
	args := finding.Args{
		"component": finding.Name(c.ID), "long": finding.Size(size[0]), "wide": finding.Size(size[1]), "high": finding.Size(size[2]),
		"length": finding.Size(0), "breadth": finding.Size(0), "height": finding.Size(0), "at": finding.Long(0), "turn": finding.Number(0),
	}
	if b, ok := w.largest(c); ok {
		at := end(b)
		args["length"], args["breadth"], args["height"] = finding.Size(b.Size[0]), finding.Size(b.Size[1]), finding.Size(b.Size[2])
		args["at"], args["turn"] = finding.Long(at.station), degrees(at.clocking)
	}
	return finding.List{finding.New("no-room", c.At, args).About(c.Part).AtStation(c.Station)}
}
