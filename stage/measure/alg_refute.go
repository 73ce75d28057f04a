package measure

import (
	"math"
	"slices"
)

// refuted is how many standard deviations the slope by rims lies off that by two touching
// places where one of these is not what it seems.
const refuted = 3.0

// formDoubt is the standard uncertainty, rad, of a slope by rims where the outline is not
// quite of lines and arcs: an elliptic nose drawn with arcs leaned the axis by 0.6°.
const formDoubt = 0.22 * deg

// refute asks the rims about the two places on which the body seems to rest. A hexagonal
// plate shows its corners at its sides and rests on a flat, or the other way about; its
// radius is not how far it reaches down. Where the slope that rims, ends and steps ask for
// is another than that of the two places, the one of them about which the edge fits worse
// is denied, and the slope is left to the rims. So it is where something hidden might hold
// the body up and it seems to rest on one of the two alone.
func (f *fitting) refute(out *solution) bool {
	if len(out.hull) != 2 || len(out.denied) > 0 {
		return false
	}
	a, b := out.hull[0], out.hull[1]
	g := *f
	g.form, g.home = f.form.clone(), f.form.clone()
	g.rests, g.slope = f.rests[:1], pull{0, levelDoubt}
	g.rays = f.trusted()
	if !g.descend(2*descents, holdNone) {
		return false
	}
	u := g.unknowns()
	n, _, _ := g.normals(&u)
	cov, ok := inverse(n, u.n, holdNone)
	if !ok {
		return false
	}
	apart := b.s - a.s
	doubt := math.Hypot(g.slopeDoubt(cov), math.Hypot(formDoubt, evenDoubt(apart)/apart))
	hull := math.Atan2(b.r-a.r, apart)
	if math.Abs(math.Asin(g.axis.u.Z)-hull) < refuted*doubt {
		return false
	}
	doubtful := a
	if f.misfit(b) > f.misfit(a) {
		doubtful = b
	}
	if out.from != slopeRests && (f.misfit(doubtful) < misfits || doubtful != out.carries(a, b)) {
		return false
	}
	out.denied = append(out.denied, f.form.flat(doubtful))
	out.differ, out.hullTilt = true, hull
	return true
}

// denies reports whether what stands at a station is not turned.
func (o *solution) denies(s float64) bool {
	return slices.ContainsFunc(o.denied, func(d reachOf) bool { return d.lo <= s && s <= d.hi })
}

// carries is which of two places is nearer to the one that the body seems to rest on.
func (o *solution) carries(a, b joint) joint {
	if math.Abs(o.rests[0].at.s-b.s) < math.Abs(o.rests[0].at.s-a.s) {
		return b
	}
	return a
}

// misfitReach is how far from a place, mm of the axis, its edge is looked at, and misfits
// the mean square of residuals from which on what stands there is not turned.
const (
	misfitReach = 4.0
	misfits     = 6.0
)

// misfit is how ill the edge fits about a place: the mean square of residuals, single wild
// ones held.
func (f *fitting) misfit(at joint) float64 {
	x, touch := f.residuals()
	sum, n := 0.0, 0.0
	for k := range x {
		if touch[k].ok && math.Abs(touch[k].at.s-at.s) < misfitReach {
			e := f.held(x[k])
			sum, n = sum+e*e, n+1
		}
	}
	return sum / max(n, 1)
}

// held is a residual in standard deviations, no more than one that tells nothing.
func (f *fitting) held(x float64) float64 { return min(math.Abs(x)/f.scale, 2*strayTold) }

// trusted are the rays of places about which the edge fits: those a plate touches tell the
// axis nothing.
func (f *fitting) trusted() (out []ray) {
	x, touch := f.residuals()
	lo := f.form.joints[0].s
	n := int(f.form.joints[len(f.form.joints)-1].s-lo) + 2
	sum, count := make([]float64, n), make([]float64, n)
	for k := range x {
		if !touch[k].ok {
			continue
		}
		e := f.held(x[k])
		at := int(touch[k].at.s - lo)
		for i := max(0, at-misfitReach/2); i <= min(n-1, at+misfitReach/2); i++ {
			sum[i], count[i] = sum[i]+e*e, count[i]+1
		}
	}
	for k := range x {
		if i := int(touch[k].at.s - lo); touch[k].ok && sum[i] < misfits*count[i] {
			out = append(out, f.rays[k])
		}
	}
	return out
}

// flat is the stretch about a place that is about as wide as it is there, down to the feet of
// the steps on both sides of it.
func (f *form) flat(at joint) reachOf {
	const (
		lower = 1.0  // mm of radius
		steep = 0.5  // slope of what still belongs to a step
		most  = 30.0 // mm of the axis
		step  = 0.25
		more  = 1.0
	)
	end := func(way float64) float64 {
		s, last := at.s, at.r
		for math.Abs(s-at.s) < most {
			r, _ := f.at(s + way*step)
			if r <= at.r-lower && last-r < steep*step {
				break
			}
			s, last = s+way*step, r
		}
		return s + way*more
	}
	return reachOf{end(-1), end(1)}
}
