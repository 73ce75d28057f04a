package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/limb"
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
	asked, whole := false, false
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
		out.axis, out.form = f.axis, f.form
		n := len(f.form.joints)
		out.lo.s, out.hi.s = f.form.joints[0].s, f.form.joints[n-1].s
		out.told = f.told()
		if more {
			continue
		}
		if !whole && passes > 0 { // once more all over, now that the axis lies well
			whole, changed = true, everywhere
			continue
		}
		if f.settleContests(out) {
			whole = false
			changed, passes = everywhere, passesMost
			continue
		}
		if asked || len(set.rests) > 0 || !f.refute(out) {
			break
		}
		asked, whole = true, false
		changed, passes = everywhere, passesMost
	}
	capped := f.capless()
	if f.form.blunted() || capped {
		f.tidy()
		if !f.descend(descents, holdNone) {
			return false
		}
		out.axis = f.axis
	}
	f.rescale()
	out.scale = f.scale
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

// capless takes away what stands before an end's rim and hardly any edge shows, and reports
// whether there was any: a few stray points make a cap of a plain face.
func (f *fitting) capless() bool {
	any := false
	for _, step := range [2]int{1, -1} {
		n := len(f.form.joints)
		end := 0
		if step < 0 {
			end = n - 1
		}
		a, rim := f.form.joints[end], end
		for i := end; i >= 0 && i < n && math.Abs(f.form.joints[i].s-a.s) < capReach; i += step {
			j := f.form.joints[i]
			if j.r > f.form.joints[rim].r && j.r-a.r >= capSteep*math.Abs(j.s-a.s) {
				rim = i
			}
		}
		b := f.form.joints[rim]
		if rim == end || n-(rim-end)*step < 3 || b.s == a.s {
			continue
		}
		x, at := f.residuals()
		shown := 0
		for k, m := range at {
			if m.ok && math.Abs(x[k]) < strayTold*f.scale && (m.at.s-b.s)*(a.s-b.s) > 0 {
				shown++
			}
		}
		if float64(shown) > capShown*b.r/mmPerPixel(f.view, f.axis) {
			continue
		}
		f.form.joints = slices.Delete(f.form.joints, min(end, rim+1), max(rim, end+1))
		f.form.spans = slices.Delete(f.form.spans, min(end, rim), max(rim, end))
		any = true
	}
	return any
}

// capSteep is how steeply, as a slope, a cap runs in that may be none: what is more pointed
// shows at its sides. capShown is how much edge a cap has that is one, as a share of its
// rim's radius: where it shows, it shows nearly all round.
const (
	capSteep = 1.5
	capShown = 0.5
	capReach = 8.0 // mm of the axis looked at
)

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
	skip := v.unturned(out)
	for i, on := range out.oneSided {
		skip[i] = skip[i] || on
	}
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

// residuals are those of all rays, in their expected standard deviations, with where
// each touches; NaN where it touches nothing.
func (f *fitting) residuals() (x []float64, at []graze) {
	parts, most := f.form.parts(), f.form.most()
	x, at = make([]float64, len(f.rays)), make([]graze, len(f.rays))
	inStretches(len(f.rays), func(_, from, to int) {
		for k := from; k < to; k++ {
			p := limb.PassOf(f.axis.p, f.axis.u, f.cam.C, f.rays[k].d)
			m := touches(parts, &p, most)
			x[k], at[k] = math.NaN(), m
			if m.ok {
				x[k] = m.gap * f.rays[k].sharp / p.Depth
			}
		}
	})
	return x, at
}

// leastScale is the least that residuals may be of what is expected of them: the file's
// steps and its compression are in the expectation already.
const leastScale = 0.5

// rescale sets the scale of residuals to what they are.
func (f *fitting) rescale() {
	x, _ := f.residuals()
	var all []float64
	for _, e := range x {
		if !math.IsNaN(e) {
			all = append(all, math.Abs(e))
		}
	}
	if len(all) > 0 {
		f.scale = max(leastScale, 1.4826*median(all))
	}
}

// tellReach is how near a touching place, mm, a station counts as told.
const tellReach = 0.75

// strayTold is the residual, in standard deviations, past which a ray tells nothing.
const strayTold = 5.0

// told lists the stations that rays touch, from the first joint on in steps of
// stationStep.
func (f *fitting) told() []bool {
	n := len(f.form.joints)
	lo, hi := f.form.joints[0].s, f.form.joints[n-1].s
	out := make([]bool, int((hi-lo)/stationStep)+2)
	x, at := f.residuals()
	for k, e := range x {
		if math.IsNaN(e) || math.Abs(e) > strayTold*f.scale {
			continue
		}
		s := at[k].at.s - lo
		for i := max(0, int(math.Ceil((s-tellReach)/stationStep))); i <= int((s+tellReach)/stationStep) && i < len(out); i++ {
			out[i] = true
		}
	}
	return out
}

// doubts takes what the fit says of height, slope, ends and, at every station, of the
// radius as it lies.
func (f *fitting) doubts(out *solution) bool {
	u := f.unknowns()
	a, _, _ := f.normals(&u)
	cov, ok := inverse(a, u.n, holdNone)
	if !ok {
		return false
	}
	g := f.frame()
	long := max(g.to-g.from, 1)
	cos := r3.Dot(g.raised, r3.Vec{Z: 1})
	out.uSlope = f.slopeDoubt(cov)
	t := (out.touch - g.from) / long
	out.uHeight = cos * math.Sqrt(max(0, (1-t)*(1-t)*cov.At(2, 2)+t*t*cov.At(3, 3)+2*t*(1-t)*cov.At(2, 3)))
	mm := mmPerPixel(f.view, f.axis)
	last := len(f.form.joints) - 1
	// Height and slope have a say of their own in all that follows.
	if cov, ok = inverse(a, u.n, holdHeights); !ok {
		return false
	}
	stray, open := f.together(&u, cov)
	end := func(i int) float64 {
		return math.Hypot(math.Sqrt(max(cov.At(i, i), stray.At(i, i), open.At(i, i))), edgeBias*mm)
	}
	out.lo.u, out.hi.u = end(u.s[0]), end(u.s[last])
	out.uForm = f.radiusDoubts(&u, cov)
	strayed, opened := f.radiusDoubts(&u, stray), f.radiusDoubts(&u, open)
	rough := f.roughness(len(out.uForm))
	for k := range out.uForm {
		out.uForm[k] = math.Hypot(max(out.uForm[k], strayed[k], opened[k]), roughSays*rough[k])
	}
	return true
}

// slopeDoubt is the standard uncertainty of the axis' slope: that of the difference of its
// two heights, over the length.
func (f *fitting) slopeDoubt(cov *mat.SymDense) float64 {
	g := f.frame()
	cos := r3.Dot(g.raised, r3.Vec{Z: 1})
	return cos * math.Sqrt(max(0, cov.At(2, 2)+cov.At(3, 3)-2*cov.At(2, 3))) / max(g.to-g.from, 1)
}

// inverse is the covariance that normal equations leave, that of what is held nought.
func inverse(a []float64, n int, held hold) (*mat.SymDense, bool) {
	m := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			m.SetSym(i, j, a[i*n+j])
		}
	}
	held.out(m)
	var chol mat.Cholesky
	var cov mat.SymDense
	if !chol.Factorize(m) || chol.InverseTo(&cov) != nil {
		return nil, false
	}
	for i, stays := range held {
		if stays {
			cov.SetSym(i, i, 0)
		}
	}
	return &cov, true
}

// radiusDoubts are the standard uncertainties of the form's radius at stations
// stationStep apart, by how it changes with each unknown.
func (f *fitting) radiusDoubts(u *unknowns, cov *mat.SymDense) []float64 {
	const h = 1e-5 // mm
	lo, hi := f.form.joints[0].s, f.form.joints[len(f.form.joints)-1].s
	n := int((hi-lo)/stationStep) + 2
	all := make([][]float64, u.n)
	base := make([]float64, n)
	read := func(g *form, k int) float64 {
		r, _ := g.at(max(lo, min(hi, lo+stationStep*float64(k))))
		return r
	}
	for k := range base {
		base[k] = read(&f.form, k)
	}
	for i := 4; i < u.n; i++ {
		g := f.form.clone()
		from, to := math.Inf(1), math.Inf(-1)
		near := func(j int) {
			from = min(from, g.joints[max(j-1, 0)].s)
			to = max(to, g.joints[min(j+1, len(g.joints)-1)].s)
		}
		for j := range g.joints {
			if u.s[j] == i {
				g.joints[j].s += h
				near(j)
			}
			if u.r[j] == i {
				g.joints[j].r += h
				near(j)
			}
		}
		for j := range g.spans {
			if u.rise[j] == i {
				g.spans[j].rise += h
				near(j)
				near(j + 1)
			}
		}
		all[i] = make([]float64, n)
		for k := max(0, int((from-lo)/stationStep)); k < n && lo+stationStep*float64(k) < to+stationStep; k++ {
			// At a step the change has no bound.
			all[i][k] = limit((read(&g, k)-base[k])/h, 2)
		}
	}
	out := make([]float64, n)
	for k := range out {
		v := 0.0
		for i := 4; i < u.n; i++ {
			if all[i][k] == 0 {
				continue
			}
			for j := 4; j < u.n; j++ {
				v += all[i][k] * all[j][k] * cov.At(i, j)
			}
		}
		out[k] = math.Sqrt(max(0, v))
	}
	return out
}
