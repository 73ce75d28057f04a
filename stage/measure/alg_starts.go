package measure

import (
	"math"

	"scalewright/craft/limb"
)

// A fit goes downhill from where it is begun. Of one that ends beside the edge, or with the
// body on one place alone, another start may end better.
const (
	otherStart = 0.7  // of the height that the axis is guessed at
	offMost    = 3.0  // pixels: what lies farther off is off
	offPoor    = 0.5  // pixels by the mean, from which on another start is tried
	offLess    = 0.97 // of it, that another start must come to
)

// anew is a first fit, or where it is poor and another start gives a better one, that one.
func (v view) anew(first solution, ok bool, start pose, set settings, even bool) (solution, bool) {
	if ok && v.turned(&first, even) && (first.from == slopeRests || v.ofBody(&first).off(&first) < offPoor) {
		return first, true
	}
	start.ha, start.hb = otherStart*start.ha, otherStart*start.hb
	second, found := v.solve(start, set)
	if found && (!ok || v.off(&second) < offLess*v.off(&first)) {
		return second, true
	}
	return first, ok
}

// ofBody is the edge without what stands out of a solution's body.
func (v view) ofBody(o *solution) view {
	v.edge = v.kept(o.skip)
	return v
}

// off is how far the edge lies off a solution's outline, pixels, by the mean over all its
// points.
func (v view) off(o *solution) float64 {
	parts, most := o.form.parts(), o.form.most()
	sum, n := 0.0, 0
	for i, e := range v.edge {
		if !e.good {
			continue
		}
		off := offMost
		if px, ok := v.outside(o.axis, parts, most, i); ok {
			off = min(off, math.Abs(px))
		}
		sum, n = sum+off, n+1
	}
	return sum / float64(max(n, 1))
}

// outside is how far outside a form's parts an edge point lies, pixels; ok is false where
// its ray touches none of them.
func (v view) outside(a axis, parts []part, most float64, i int) (px float64, ok bool) {
	p := limb.PassOf(a.p, a.u, v.cam.C, v.sight[i].d)
	m := touches(parts, &p, most)
	return m.gap * v.cam.F / p.Depth, m.ok
}
