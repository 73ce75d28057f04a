package structure

import (
	"math"
	"slices"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// body is what stays in one when all that is removable is taken off.
type body struct {
	group model.Group
	core  bool // the core stays in it
}

// bodies are the build taken apart where it comes apart. The core stays where it
// is fixed: in its lowest ring, or the lowest piece that it runs through.
func (in Input) bodies(d model.Division, mounts []model.Mount) []body {
	groups := d.Groups(mounts)
	out := make([]body, len(groups))
	for i, g := range groups {
		out[i].group = g
	}
	if in.Core == nil {
		return out
	}
	if id, ok := in.coreFixed(); ok {
		for i := range out {
			out[i].core = slices.Contains(out[i].group.Pieces, id)
		}
		return out
	}
	return append(out, body{group: model.Group{ID: "core"}, core: true})
}

// coreFixed is the piece that the core is glued into.
func (in Input) coreFixed() (model.PieceID, bool) {
	low, best := math.Inf(1), model.PieceID{}
	for _, s := range in.Division.Seats {
		if at := float64(s.Span.From); at < low {
			low, best = at, s.Ring
		}
	}
	if !math.IsInf(low, 1) {
		return best, true
	}
	turned := map[string]bool{}
	for _, p := range in.Parts {
		turned[p.ID] = p.OnBody()
	}
	for _, p := range in.Division.Pieces {
		through := p.OnCore || p.ID.Kind == model.Shell && turned[p.ID.Part]
		if meets := p.Span.From < in.Core.Span.To && p.Span.To > in.Core.Span.From; through && meets && float64(p.Span.From) < low {
			low, best = float64(p.Span.From), p.ID
		}
	}
	return best, !math.IsInf(low, 1)
}

// extents are the bounds of the pieces as carved, measured once.
type extents struct {
	Input
	of map[model.PieceID]solid.Bounds
}

func (in Input) extents() extents {
	e := extents{in, map[model.PieceID]solid.Bounds{}}
	for i, c := range in.Carved {
		if !c.Solid.Empty() {
			e.of[in.Division.Pieces[i].ID] = c.Solid.Bounds()
		}
	}
	return e
}

// box is the extent of a body, x y z.
func (e extents) box(b body) [3]float64 {
	var all solid.Bounds
	first := true
	take := func(low, high solid.Vec) {
		if first {
			all, first = solid.Bounds{Min: low, Max: high}, false
			return
		}
		for k := range all.Min {
			all.Min[k], all.Max[k] = min(all.Min[k], low[k]), max(all.Max[k], high[k])
		}
	}
	for _, id := range b.group.Pieces {
		if box, ok := e.of[id]; ok {
			take(box.Min, box.Max)
		}
	}
	if b.core && e.Core != nil {
		r := float64(e.Core.Stock.Widest()) / 2
		take(solid.Vec{-r, -r, float64(e.Core.Span.From)}, solid.Vec{r, r, float64(e.Core.Span.To)})
	}
	if first {
		return [3]float64{}
	}
	return [3]float64(all.Size())
}

// grams is a body's mass: its prints with their share of the finish, the core,
// what is built into it.
func (in Input) grams(b body, weights []model.Weight) float64 {
	prints, all, finish, rest := 0.0, 0.0, 0.0, 0.0
	for i, p := range in.Prints {
		all += float64(p.Grams)
		if slices.Contains(b.group.Pieces, in.Division.Pieces[i].ID) {
			prints += float64(p.Grams)
		}
	}
	for _, w := range weights {
		switch w.Kind {
		case model.FinishWeight:
			finish = w.Mass.X
		case model.CoreWeight:
			if b.core {
				rest += w.Mass.X
			}
		}
	}
	for _, c := range in.Components {
		if c.Service != model.Outside && slices.Contains(b.group.Pieces, in.pieceOf(c)) {
			rest += componentGrams(c)
		}
	}
	if all > 0 {
		prints += finish * prints / all
	}
	return prints + rest
}

// pieceOf is the piece that a component goes with.
func (in Input) pieceOf(c model.Component) model.PieceID {
	if b, ok := in.Places.Bay(c.ID); ok {
		return b.Piece
	}
	for _, p := range in.Division.Pieces {
		if p.ID.Part == c.Part {
			return p.ID
		}
	}
	return model.PieceID{}
}

// lifted lists what has to be lifted and says what one person should not lift alone.
func (in Input) lifted(s *model.Structure) finding.List {
	if s.Total.X <= 0 {
		return nil
	}
	people := func(grams float64) int { return max(1, int(math.Ceil(grams/1000/s.Lift))) }
	lift := func(name string, grams float64) model.Lifted {
		return model.Lifted{Name: name, Mass: unit.Mass(grams), People: people(grams)}
	}
	build := lift("the build", s.Total.X)
	s.Lifted = append(s.Lifted, build)
	var found finding.List
	args := finding.Args{"mass": finding.Weight(build.Mass), "limit": finding.Weight(1000 * s.Lift), "people": finding.Count(build.People)}
	code := finding.Code("heavy")
	if bodies := in.bodies(in.Division, in.Mounts); len(bodies) > 1 {
		var heaviest model.Lifted
		for _, b := range bodies {
			if grams := in.grams(b, s.Weights); unit.Mass(grams) > heaviest.Mass {
				heaviest = lift(b.group.ID+" and what is glued to it", grams)
			}
		}
		s.Lifted = append(s.Lifted, heaviest)
		code, args["apart"] = "heavy-apart", finding.Weight(heaviest.Mass)
	}
	if build.People > 1 {
		found.Add(finding.New(code, in.at(), args))
	}
	if base := float64(s.Stand.Base); base > 0 {
		stand := lift("the stand", base)
		s.Lifted = append(s.Lifted, stand)
		if stand.People > 1 {
			found.Add(finding.New("stand-heavy", in.Stand.At, finding.Args{
				"mass": finding.Weight(stand.Mass), "limit": finding.Weight(1000 * s.Lift), "people": finding.Count(stand.People),
			}))
		}
	}
	slices.SortStableFunc(s.Lifted, func(a, b model.Lifted) int { return int(math.Copysign(1, float64(b.Mass-a.Mass))) })
	return found
}
