package structure

import (
	"math"
	"slices"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/stock"
)

// warmest is how warm the build itself gets, °C.
func (in Input) warmest() float64 {
	return in.Site.Warmest + map[model.Sun]float64{model.WindowSun: sunWindow, model.OpenSun: sunOpen}[in.Site.Sun]
}

// warm says what softens where the build lives.
func (in Input) warm() finding.List {
	var found finding.List
	warmest := in.warmest()
	soften := func(at finding.Place, what string, limit float64) {
		if warmest > limit {
			found.Add(finding.New("too-warm", at, finding.Args{
				"what": finding.Name(what), "warm": finding.Number(warmest), "limit": finding.Number(limit),
			}))
		}
	}
	used := map[string]bool{}
	for _, p := range in.Division.Pieces {
		used[p.Filament] = true
	}
	for _, f := range in.Filaments {
		if material, ok := stock.FindMaterial(f.Material); ok && used[f.ID] {
			soften(in.Site.At, f.Material, material.Tg-warmGuard)
		}
	}
	if in.Core != nil {
		soften(in.Core.At, in.Core.Stock.Name, in.Core.Stock.Substance().Soft)
	}
	glues := map[string]bool{}
	for _, s := range in.Division.Seams {
		if !s.Removable {
			glues[stock.GlueFor(s.Glue).ID] = true
		}
	}
	for _, m := range in.Mounts {
		if !m.Removable {
			glues[stock.GlueFor(m.Glue).ID] = true
		}
	}
	for _, g := range stock.Glues() {
		if glues[g.ID] {
			soften(in.Site.At, g.Name, g.Soft)
		}
	}
	return found
}

// way says which doors and lifts are too small for the largest thing that is
// carried through them: the build off its stand, taken apart where it comes apart.
func (in Input) way() finding.List {
	if len(in.Carved) == 0 {
		return nil
	}
	whole := in.box(func(model.PieceID) bool { return true })
	groups := in.Division.Groups(in.Mounts)
	var found finding.List
	for _, p := range in.Site.Passages {
		if passes(whole, p) {
			continue
		}
		var worst [3]float64
		apart := len(groups) > 1
		for _, g := range groups {
			box := in.box(func(id model.PieceID) bool { return slices.Contains(g.Pieces, id) })
			if !passes(box, p) {
				apart, worst = false, box
			}
		}
		code := finding.Code("way-narrow")
		box := worst
		if apart {
			code, box = "way-apart", whole
		}
		if box == ([3]float64{}) {
			box = whole
		}
		found.Add(finding.New(code, p.At, finding.Args{
			"way": finding.Name(p.Name), "long": finding.Long(box[2]), "wide": finding.Long(max(box[0], box[1])),
			"room": finding.Long(p.Wide), "high": finding.Long(p.High),
		}))
	}
	return found
}

// box is the extent of some pieces, the core's length taken in, x y z.
func (in Input) box(takes func(model.PieceID) bool) [3]float64 {
	var all solid.Bounds
	first := true
	for i, c := range in.Carved {
		if c.Solid.Empty() || !takes(in.Division.Pieces[i].ID) {
			continue
		}
		b := c.Solid.Bounds()
		if first {
			all, first = b, false
			continue
		}
		for k := range all.Min {
			all.Min[k], all.Max[k] = min(all.Min[k], b.Min[k]), max(all.Max[k], b.Max[k])
		}
	}
	if first {
		return [3]float64{}
	}
	return [3]float64(all.Size())
}

// passes reports whether a box goes through a passage: a door lengthwise, either
// way up; a lift standing, lying or leaning in its car.
func passes(box [3]float64, p model.Passage) bool {
	wide, high, deep := float64(p.Wide)-2*handsRoom, float64(p.High)-2*handsRoom, float64(p.Deep)
	sides := slices.Sorted(slices.Values(box[:]))
	if !goesIn(sides[0], sides[1], wide, high) {
		return false
	}
	if deep == 0 {
		return true
	}
	deep -= 2 * handsRoom
	// Leaning in the plane of depth and height, or of width and height, its least
	// side across.
	return sides[0] <= wide && goesIn(sides[1], sides[2], deep, high) ||
		sides[0] <= deep && goesIn(sides[1], sides[2], wide, high)
}

// goesIn reports whether a rectangle a by b goes into one of c by d at some angle.
func goesIn(a, b, c, d float64) bool {
	const steps = 180
	for i := range steps {
		sin, cos := math.Sincos(math.Pi * float64(i) / steps)
		sin, cos = math.Abs(sin), math.Abs(cos)
		if a*cos+b*sin <= c && a*sin+b*cos <= d {
			return true
		}
	}
	return false
}
