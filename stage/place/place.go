package place

import (
	"cmp"
	"context"
	"math"
	"slices"

	"scalewright/craft/circuit"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
)

// Run finds the bays and the ways.
func Run(ctx context.Context, in Input) (model.Places, finding.List, error) {
	w := work{Input: in, all: in.rooms(), wires: circuit.Wires(in.Design.Components)}
	var found finding.List
	for _, c := range w.order() {
		if err := ctx.Err(); err != nil {
			return model.Places{}, found, err
		}
		bay, f := w.put(c)
		found.Add(f...)
		if len(f) == 0 {
			w.bays = append(w.bays, bay)
		}
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
		out.Ways = w.ways(out)
	}
	return out, found, nil
}

type work struct {
	Input
	all   []room
	wires []model.Wire
	bays  []model.Bay
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
	switch {
	case c.Kind.Role == stock.Strip:
		return w.wind(c)
	case c.Opening != "":
		return w.behind(c)
	}
	var best model.Bay
	cost := math.Inf(1)
	var largest float64
	var near string
	for _, r := range w.all {
		if r.part != c.Part {
			continue
		}
		for _, b := range w.tries(c, r) {
			bay := b.bay(c, r)
			other, free := w.free(bay)
			if !free {
				near = cmp.Or(near, other)
				continue
			}
			if d := w.far(c, bay); d < cost {
				best, cost = bay, d
			}
		}
		largest = max(largest, r.to-r.from)
	}
	if !math.IsInf(cost, 1) {
		return best, nil
	}
	size := sizeOf(c)
	code, args := finding.Code("no-room"), finding.Args{
		"component": finding.Name(c.ID), "long": finding.Size(size[0]), "wide": finding.Size(size[1]), "high": finding.Size(size[2]),
		"room": finding.Size(largest),
	}
	if c.Placed {
		code = "place-taken"
		args["by"] = finding.Name(cmp.Or(near, "the wall, the core or a ring"))
		delete(args, "room")
	}
	return best, finding.List{finding.New(code, c.At, args).About(c.Part).AtStation(c.Station)}
}

// sizeOf is a component with room round it and for plugs at the ends of its
// length.
func sizeOf(c model.Component) [3]float64 {
	return [3]float64{
		float64(c.Kind.Size[0]+2*c.Kind.Plug) + 2*spare, float64(c.Kind.Size[1]) + 2*spare, float64(c.Kind.Size[2]) + 2*spare,
	}
}

// tries are the boxes that a component may take in a room.
func (w *work) tries(c model.Component, r room) []box {
	size := sizeOf(c)
	var out []box
	for _, round := range [...]bool{false, true} {
		along, wide := size[0], size[1]
		if round {
			along, wide = wide, along
		}
		add := func(station, clocking float64) {
			b, ok := r.against(station, clocking, along, wide, size[2], w.less(r, station, clocking, along, wide))
			b.lengthRound = round
			if ok {
				out = append(out, b)
			}
		}
		if c.Placed {
			add(float64(c.Station), c.Clocking)
			continue
		}
		for z := r.from + along/2; z <= r.to-along/2+1e-9; z += alongStep {
			for k := range roundSteps {
				add(z, 2*math.Pi*float64(k)/roundSteps)
			}
		}
	}
	return out
}

// less is how much further in a box must lie, for a ledge or a tongue on the wall.
func (w *work) less(r room, station, clocking, along, wide float64) float64 {
	less := 0.0
	over := func(at, reach, turn, half float64) bool {
		arc := math.Abs(math.Remainder(clocking-turn, 2*math.Pi)) * r.outerAt(station, station)
		return math.Abs(station-at) < reach+along/2+clear && arc < half+wide/2+clear
	}
	for _, v := range w.Division.Windows {
		o := v.Opening
		if v.Piece != r.piece.ID || !o.Panel {
			continue
		}
		if over(float64(o.Station), float64(o.High/2+model.LedgeWide), o.Clocking, float64(o.Wide/2+model.LedgeWide)) {
			less = max(less, w.wall(r.part)+clear)
		}
	}
	for _, t := range w.Division.Tabs {
		if t.Host == r.piece.ID && over(float64(t.Span.From+t.Span.To)/2, float64(t.Span.Length())/2, t.Clocking, float64(t.Thick)/2) {
			less = max(less, tongueStand)
		}
	}
	return less
}

func (w *work) wall(part string) float64 {
	for _, p := range w.Design.Parts {
		if p.ID == part {
			return float64(p.Wall)
		}
	}
	return 0
}

// free reports whether a bay keeps off all others, and names the first that it
// does not keep off.
func (w *work) free(b model.Bay) (string, bool) {
	for _, other := range w.bays {
		if !apart(b, other) {
			return other.Component, false
		}
	}
	return "", true
}

// far is what a place costs: the way to what the component is wired to, and, for
// what must be reached, to the opening that leads to it.
func (w *work) far(c model.Component, b model.Bay) float64 {
	cost := 0.0
	for _, wire := range w.wires {
		peer := wire.To
		if wire.To == c.ID {
			peer = wire.From
		} else if wire.From != c.ID {
			continue
		}
		for _, other := range w.bays {
			if other.Component == peer {
				cost += middle(other).Sub(middle(b)).Length()
			}
		}
	}
	if c.Service != model.Serviced {
		return cost
	}
	nearest := unreached
	for _, id := range b.Reached {
		nearest = min(nearest, seamCost)
		for _, v := range w.Division.Windows {
			if v.Opening.ID == id && through(c, v.Opening) {
				sin, cos := math.Sincos(v.Opening.Clocking)
				at := middle(b)
				d := math.Hypot(at[0]-float64(v.Radius)*cos, at[1]-float64(v.Radius)*sin) + math.Abs(at[2]-float64(v.Opening.Station))
				nearest = min(nearest, d)
			}
		}
	}
	return cost + reachWeight*nearest
}

// A place that must be reached is worth so many times its length of wire; a joint
// that comes apart costs as much as 300 mm, a place behind neither as 5 m.
const (
	reachWeight = 2.0
	seamCost    = 300.0
	unreached   = 5000.0
)

// through reports whether a component passes an opening's clear size.
func through(c model.Component, o model.Opening) bool {
	w, h := float64(o.Wide-2*model.LedgeWide), float64(o.High-2*model.LedgeWide)
	if o.Across > 0 {
		w, h = float64(o.Across)/math.Sqrt2, float64(o.Across)/math.Sqrt2
	}
	s := []float64{float64(c.Kind.Size[0]), float64(c.Kind.Size[1]), float64(c.Kind.Size[2])}
	slices.Sort(s)
	return s[0] <= min(w, h) && s[1] <= max(w, h) || s[1] <= min(w, h) && s[2] <= max(w, h)
}
