package measure

import (
	"math"

	"scalewright/craft/limb"
)

// Where the edge at an end lies off the outline, what was followed there was something
// else: a line that runs close by, or nothing, where the body has the mat's own look. The
// end may lie as far off, and a body that narrows towards it may run on to a point.
const (
	endAbout   = 0.5  // mm from an end's station: the edge there is the end's
	endOff     = 2.0  // pixels off the outline
	endOffMost = 0.2  // of the points at an end, that may lie so far off
	endPoints  = 10   // or nothing is said
	endAstray  = 20.0 // pixels: what lies farther off belongs to something else
	narrowOver = 3.0  // mm, over which a body is asked whether it narrows, twice, and
	narrowEven = 0.3  // how unevenly at most
	pointMost  = 40.0 // mm: what ends farther on in a point does not narrow
)

// openEnds takes into the doubt of both ends what their own edge leaves open.
func (v view) openEnds(o *solution) {
	last := len(o.form.joints) - 1
	for _, e := range [2]struct {
		end    *end
		at     joint
		inward float64
	}{{&o.lo, o.form.joints[0], 1}, {&o.hi, o.form.joints[last], -1}} {
		off, n, far := v.offAtEnd(o, e.at.s)
		if n < endPoints || float64(far) < endOffMost*float64(n) {
			if blind, all := v.blindAtEnd(o, e.at.s); all < endPoints || 2*blind < all {
				continue
			}
			off = endAstray
		}
		e.end.u = math.Hypot(e.end.u, off*mmPerPixel(v, o.axis))
		if on := o.form.runsOn(e.at, e.inward); on < pointMost {
			e.end.u = math.Hypot(e.end.u, on/math.Sqrt(3)) // anywhere between is as likely
		}
	}
}

// runsOn is how far beyond an end the body comes to a point if it goes on as it narrows
// towards it; infinite where it does not, or not evenly.
func (g *form) runsOn(at joint, inward float64) float64 {
	near, _ := g.at(at.s + narrowOver*inward)
	far, _ := g.at(at.s + 2*narrowOver*inward)
	a, b := near-at.r, far-near
	if at.r <= 0 || a <= 0 || math.Abs(b-a) > narrowEven*a {
		return math.Inf(1)
	}
	return at.r * narrowOver / a
}

// blindAtEnd is how many points of the edge of an end show no step of light, of how many:
// what was followed there is nothing that is seen.
func (v view) blindAtEnd(o *solution, s float64) (blind, all int) {
	parts, most := o.form.parts(), o.form.most()
	for i, e := range v.edge {
		p := limb.PassOf(o.axis.p, o.axis.u, v.cam.C, v.sight[i].d)
		m := touches(parts, &p, most)
		if !m.ok || math.Abs(m.at.s-s) > endAbout || math.Abs(m.gap)*v.cam.F/p.Depth > endAstray {
			continue
		}
		all++
		if !e.good {
			blind++
		}
	}
	return blind, all
}

// offAtEnd is how far, pixels and by the root of the mean square, the edge of an end lies
// off the outline, of how many points, and how many of those lie clearly off.
func (v view) offAtEnd(o *solution, s float64) (rms float64, n, far int) {
	parts, most := o.form.parts(), o.form.most()
	for i, e := range v.edge {
		p := limb.PassOf(o.axis.p, o.axis.u, v.cam.C, v.sight[i].d)
		m := touches(parts, &p, most)
		off := math.Abs(m.gap) * v.cam.F / p.Depth
		if !e.good || o.skip[i] || !m.ok || math.Abs(m.at.s-s) > endAbout || off > endAstray {
			continue
		}
		n++
		rms += off * off
		if off > endOff {
			far++
		}
	}
	return math.Sqrt(rms / float64(max(n, 1))), n, far
}
