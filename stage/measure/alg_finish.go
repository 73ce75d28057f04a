package measure

import (
	"math"
	"slices"
)

// endReach is how far beyond where the edge crosses the axis, mm, an end is looked for.
const endReach = 10.0

// descents is how many steps a fit of the whole takes at most.
const descents = 15

// finish fits an outline of lines and arcs, and the axis with it, to the edge.
func (v view) finish(out *solution, set settings, from form) bool {
	f := fitting{view: v, axis: out.axis, form: from, prof: out.prof}
	if len(f.form.spans) == 0 {
		return false
	}
	f.reach = reachOf{out.lo.s - endReach, out.hi.s + endReach}
	f.look(v.unhidden(out, set))
	out.form = f.form
	whole, crisp := false, false
	changed, passes := everywhere, passesMost
	for k := 0; ; k++ {
		if !v.rest(out, set) {
			return false
		}
		f.rests, f.slope = out.rests, out.pull
		if k == 1 && f.explains(out.skip) {
			out.skip = make([]bool, len(out.skip))
			v.finned(out.axis, out.fins, out.skip)
		}
		if k > 0 {
			f.look(v.unhidden(out, set))
		}
		f.tidy()
		if !f.descend(descents, holdNone) {
			return false
		}
		f.rescale()
		more := len(changed) > 0 && passes > 0
		if more {
			changed = f.improve(changed)
			passes--
		}
		f.into(out)
		if more {
			continue
		}
		if !whole && passes > 0 { // once more all over, now that the axis lies well
			whole, changed = true, everywhere
			continue
		}
		if !crisp {
			crisp = true
			if f.crisped() {
				whole, changed, passes = false, everywhere, passesMost
				f.into(out)
				continue
			}
		}
		if f.settleContests(out) {
			whole = false
			changed, passes = everywhere, passesMost
			continue
		}
		if len(set.rests) > 0 || !f.refute(out, set) {
			break
		}
		whole = false
		changed, passes = everywhere, passesMost
	}
	capped, peaked, pitted, overshot := f.capless(), f.peakless(), f.pitless(), f.drawnIn()
	if f.form.plain() || capped || peaked || pitted || overshot {
		f.tidy()
		f.into(out)
		if !v.rest(out, set) { // it may have lain on what is gone
			return false
		}
		f.rests, f.slope = out.rests, out.pull
		if !f.descend(descents, holdNone) {
			return false
		}
		f.into(out)
	}
	f.rescale()
	out.scale = f.scale
	if f.form.flush() {
		f.home = f.form.clone()
	}
	cut := [2]float64{f.cutOff(false), f.cutOff(true)}
	if !f.doubts(out) {
		return false
	}
	out.form = f.form
	n := len(f.form.joints)
	out.lo.s, out.hi.s = f.form.joints[0].s, f.form.joints[n-1].s
	out.lo.u, out.hi.u = math.Hypot(out.lo.u, cut[0]), math.Hypot(out.hi.u, cut[1])
	if out.from == slopeGuessed && out.uSlope < rimSure/2 {
		out.from = slopeRim
	}
	if out.differ {
		out.rimTilt = math.Asin(out.axis.u.Z)
	}
	return true
}

// into puts what is fitted into a solution: the axis, the outline, its ends and which of it
// the edge tells.
func (f *fitting) into(out *solution) {
	out.axis, out.form = f.axis, f.form
	out.lo.s, out.hi.s = f.form.joints[0].s, f.form.joints[len(f.form.joints)-1].s
	out.told = f.told()
}

// everywhere is all of the axis.
var everywhere = []reachOf{{math.Inf(-1), math.Inf(1)}}

// explains reports whether the form explains what was taken to stand out of it: nearly
// all of its points. Taken point by point, a fin would be made body from its root on.
func (f *fitting) explains(set []bool) bool {
	parts, most := f.form.parts(), f.form.most()
	n, near := 0, 0
	for i, on := range set {
		if !on {
			continue
		}
		n++
		if px, ok := f.outside(f.axis, parts, most, i); ok && px < apartPx {
			near++
		}
	}
	return float64(near) >= explained*float64(n)
}

// apartPx is how far outside the body, pixels, what is no part of it stands, and explained
// the share of points within it that makes a stretch part of the body.
const (
	apartPx   = 2.0
	explained = 0.95
)

// unbelieved is which edge points do not tell the body's outline: what is none of a turned
// body, and what the other side contradicts.
func (v view) unbelieved(o *solution) []bool {
	skip := v.unturned(o)
	for i, on := range o.oneSided {
		skip[i] = skip[i] || on
	}
	return skip
}

// unturned is which edge points are none of a turned body's: what stands out of it, and what
// was denied.
func (v view) unturned(o *solution) []bool {
	skip := slices.Clone(o.skip)
	if len(o.denied) == 0 {
		return skip
	}
	for i, g := range v.sight {
		t := o.axis.contact(v.cam.C, g)
		skip[i] = skip[i] || t.ok && o.denies(t.s)
	}
	return skip
}

// unhidden is what to skip: what is not turned, and what touches it where the maker says
// that it is hidden; but at its ends, for they tell the length.
func (v view) unhidden(out *solution, set settings) []bool {
	skip := v.unbelieved(out)
	for i, g := range v.sight {
		t := out.axis.contact(v.cam.C, g)
		for _, h := range set.hidden {
			if h.from < tipReach || h.to > out.hi.s-out.lo.s-tipReach {
				continue
			}
			if s := out.datum(t.s, set.flip); t.ok && h.from <= s && s <= h.to {
				skip[i] = true
			}
		}
	}
	return skip
}

// firstForm draws lines and arcs through the profile as it was read.
func (v view) firstForm(out *solution) form {
	rows := make([]row, len(out.prof))
	for k := range rows {
		rows[k].station = out.prof[k]
		rows[k].s -= out.lo.s
	}
	rows = drawEnds(rows, out.lo, out.hi, out.hi.s-out.lo.s, out.hi.u)
	bridgeUnseen(rows)
	f := formOf(segments(rows), [2]bool{!out.lo.rim, !out.hi.rim})
	for i := range f.joints {
		f.joints[i].s += out.lo.s
	}
	return f
}
