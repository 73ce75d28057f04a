package measure

import (
	"math"
	"slices"

	"scalewright/craft/limb"
)

// refuted is how many standard deviations the slope by rims lies off that by two touching
// places where one of these is not what it seems.
const refuted = 3.0

// formDoubt is the standard uncertainty, rad, of a slope by rims where the outline is not
// quite of lines and arcs: an elliptic nose drawn with arcs leaned the axis by 0.6°.
const formDoubt = 0.22 * deg

// deniedMost is how many places are denied at most: two discs, fins before and behind.
const deniedMost = 2

// refute asks the rims about the two places on which the body seems to rest. A hexagonal
// plate shows its corners at its sides and rests on a flat, or the other way about; its
// radius is not how far it reaches down. Where the slope that rims, ends and steps ask for
// is another than that of the two places, the one of them about which the edge fits worse
// is denied, and the slope is left to the rims. Where something hidden might hold the body
// up, the place that alone seems to carry it is asked: it is denied where the edge fits ill
// about it, and where nothing could hold the body up beside it.
func (f *fitting) refute(out *solution, set settings) bool {
	if len(out.hull) != 2 || len(out.denied) >= deniedMost {
		return false
	}
	a, b := out.hull[0], out.hull[1]
	apart := b.s - a.s
	hull := math.Atan2(b.r-a.r, apart)
	if len(out.denied) > 0 && math.Abs(math.Asin(f.axis.u.Z)-hull) < hangs {
		return false // the rims have it as it lies
	}
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
	doubt := math.Hypot(g.slopeDoubt(cov), math.Hypot(formDoubt, evenDoubt(apart)/apart))
	rims := math.Asin(g.axis.u.Z)
	if math.Abs(rims-hull) < refuted*doubt {
		return false
	}
	at, ok := f.doubtful(out, set, hull, rims)
	if !ok {
		return false
	}
	out.denied = append(out.denied, f.form.flat(at))
	out.differ, out.hullTilt = true, hull
	return true
}

// doubtful is which of the two touching places is none, if one is. A body hangs in the air by
// a slope that is the steeper of the two: what lies on a mat lies nearly level.
func (f *fitting) doubtful(out *solution, set settings, hull, rims float64) (at joint, ok bool) {
	at = out.hull[0]
	if f.misfit(out.hull[1]) > f.misfit(at) {
		at = out.hull[1]
	}
	if out.from == slopeRests {
		return at, true
	}
	carries := out.carries(out.hull[0], out.hull[1])
	if math.Abs(rims-hull) > hangs && math.Abs(hull) > math.Abs(rims) && !out.heldUp(set, f.view, carries, rims) {
		return carries, true
	}
	return at, len(out.denied) == 0 && at == carries && f.heardOut(out, set).misfit(at) >= misfits
}

// heardOut is a fitting with the edge that the other side contradicts as well: of a plate each
// side may show another corner.
func (f *fitting) heardOut(out *solution, set settings) *fitting {
	both, all := *out, *f
	both.oneSided = nil
	all.look(f.unhidden(&both, set))
	return &all
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

// hangs is from which difference on, rad, between the slope by rims and that by two touching
// places a body is thought to hang in the air: polished, its rims err by 1° and more.
const hangs = 2.5 * deg

// heldBy is how far short of the mat, mm, a place may lie that is thought to hold the body.
const heldBy = 2.0

// heldUp reports whether a body that lies on one place alone, leaned as the rims have it, may
// have another beyond its weight that does not show: a turned place reaches no farther there
// than the outline or what showed of it, what is not turned no farther than its outline, and
// what stands out of the body is where it shows. What nothing can hold up does not lie there:
// two fins look like a flange, which would hold it higher than they do.
func (o *solution) heldUp(set settings, v view, on joint, slope float64) bool {
	if len(set.hidden) > 0 { // by what, only the maker knows
		return true
	}
	pts, blind := o.places(set)
	moment, weight := 0.0, 0.0
	for _, p := range pts {
		moment += p.s * p.r * p.r
		weight += p.r * p.r
	}
	beyond := func(s float64) bool { return (s-moment/weight)*(on.s-moment/weight) < 0 }
	reaches := func(s, r float64) bool {
		return beyond(s) && r > on.r+math.Tan(slope)*(s-on.s)-heldBy
	}
	for _, p := range blind {
		if r, _ := o.form.at(p.s); reaches(p.s, max(r, p.r)) {
			return true
		}
	}
	for _, d := range o.denied {
		for s := d.lo; s <= d.hi; s += stationStep {
			if r, _ := o.form.at(s); reaches(s, r) {
				return true
			}
		}
	}
	n := 0
	for i, out := range o.skip {
		if p := limb.PassOf(o.axis.p, o.axis.u, v.cam.C, v.sight[i].d); out && v.edge[i].good && reaches(p.Station, p.Near) {
			n++
		}
	}
	return n > wingLeast
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
