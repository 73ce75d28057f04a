package divide

import (
	"math"

	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// ground is a host as a fastening meets it.
type ground struct {
	work
	back solid.Transform // from the build's frame to the host's own
	tree *solid.Tree     // of what is not turned; nil: turned
}

// groundOf is a host in its place in the build.
func groundOf(in Input, part string) (ground, error) {
	g := ground{work: workOf(in, part)}
	back, ok := g.part.Frame().Inverse()
	if !ok {
		panic("divide: internal error: the frame of " + part + " cannot be undone")
	}
	g.back = back
	if len(g.raw.Outer) == 0 {
		body := g.raw.Filled
		if body.Empty() {
			body = g.raw.Solid
		}
		tree, err := solid.NewTree(body)
		if err != nil {
			return g, err
		}
		g.tree = tree
	}
	return g, nil
}

// inside reports whether a place of the build lies under the host's outside.
func (g ground) inside(p solid.Vec) bool {
	q := g.back.Apply(p)
	if g.tree != nil {
		place, err := g.tree.Locate(q)
		return err == nil && place == solid.Inside
	}
	z := q[2]
	return z > float64(g.part.Span.From) && z < float64(g.part.Span.To) && math.Hypot(q[0], q[1]) < model.LowestBetween(g.raw.Outer, z, z)
}

// leaves is how far along a line, between two places, it comes out of the host:
// from inside at the one to outside at the other. False where it does not.
func (g ground) leaves(at, out solid.Vec, from, to float64) (float64, bool) {
	last := from
	for i := 1; i <= lineSteps; i++ {
		s := from + (to-from)*float64(i)/lineSteps
		if g.inside(at.Add(out.Scale(last))) && !g.inside(at.Add(out.Scale(s))) {
			for range halvings {
				middle := (last + s) / 2
				if g.inside(at.Add(out.Scale(middle))) {
					last = middle
				} else {
					s = middle
				}
			}
			return last, true
		}
		last = s
	}
	return 0, false
}

// A line through a host is looked at in so many places, and where it comes out is
// then found to 2⁻⁴⁰ of a step.
const (
	lineSteps = 256
	halvings  = 40
)

// round is the least and the most that the host's surface reaches along a line
// within a radius of it, about where the line leaves the host.
func (g ground) round(at, out solid.Vec, radius float64) (low, high float64) {
	x := out.Cross(leastAlong(out)).Unit()
	y := out.Cross(x)
	for k := range aroundPlaces {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / aroundPlaces)
		p := at.Add(x.Scale(radius * cos)).Add(y.Scale(radius * sin))
		s, ok := g.leaves(p, out, -2*radius-1, 2*radius+1)
		if !ok {
			return math.Inf(-1), math.Inf(1) // past an edge
		}
		low, high = min(low, s), max(high, s)
	}
	return low, high
}

// aroundPlaces are how many places round a line are looked at.
const aroundPlaces = 24

// leastAlong is the axis that a vector runs least along.
func leastAlong(v solid.Vec) solid.Vec {
	k := 0
	for i := range v {
		if math.Abs(v[i]) < math.Abs(v[k]) {
			k = i
		}
	}
	var out solid.Vec
	out[k] = 1
	return out
}

// thick is how much material lies behind a place of the surface along a line, as
// far as it is looked for.
func (g ground) thick(at, out solid.Vec, most float64) float64 {
	const step = 0.05 // mm: the least that matters of a hole's floor
	for s := step; s < most; s += step {
		if !g.filled(at.Add(out.Scale(-s))) {
			return s - step
		}
	}
	return most
}

// filled reports whether a place lies in the host's material.
func (g ground) filled(p solid.Vec) bool {
	if !g.inside(p) {
		return false
	}
	q := g.back.Apply(p)
	r := math.Hypot(q[0], q[1])
	switch {
	case g.tree != nil:
		return g.part.Wall == 0 || g.nearSurface(q)
	case g.core != nil && g.core.Hold == model.Bored && g.core.Span.Holds(unit.Length(p[2])):
		return r > float64(g.core.Stock.Widest())/2+float64(g.part.Wall)
	case g.part.Bore > 0 && r < float64(g.part.Bore)/2:
		return false
	}
	return len(g.raw.FootDown) == 0 || r > model.LowestBetween(g.raw.FootDown, q[2], q[2])
}

// nearSurface reports whether a place lies in the wall of a hollow part that is
// not turned.
func (g ground) nearSurface(q solid.Vec) bool {
	_, ok, err := g.tree.Nearest(q, float64(g.part.Wall))
	return ok && err == nil
}

// grows reports whether the host's wall can be made thicker inside: a turned wall
// of the body.
func (g ground) grows() bool {
	return g.part.OnBody() && g.part.Wall > 0
}
