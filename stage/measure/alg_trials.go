package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// trials lists what might describe the outline better.
func (f *fitting) trials(x []float64, at []graze) (out []trial) {
	n := len(f.form.joints)
	add := func(first, last int, change func(g *form) bool) {
		first, last = max(first, 0), min(last, n-1)
		g := f.form.stretch(first, last)
		if change(&g) {
			out = append(out, trial{first: first, last: last, form: g})
		}
	}
	for i := 1; i < n-1; i++ { // leave a joint out
		for _, kind := range [2]spanKind{lineSpan, arcSpan} {
			first := max(i-2, 0)
			add(first, i+2, func(g *form) bool { return g.leaveOut(i-first, kind) })
		}
	}
	for i := range n { // one span for several
		for k := 3; k <= severalMost && i+k < n; k++ {
			for _, kind := range [2]spanKind{lineSpan, arcSpan} {
				first := max(i-1, 0)
				add(first, i+k+1, func(g *form) bool { return g.sweep(i-first, k, kind) })
			}
		}
	}
	for i := 1; i < n-1; i++ { // a flat between two faces in place of a peak or a pit
		for _, r := range [2]float64{f.form.joints[i].r, f.read(i)} {
			add(i-2, i+2, func(g *form) bool { return g.plateau(i-max(i-2, 0), r) })
		}
		for _, t := range [2]float64{0, 0.5} { // a groove in place of a pit
			add(i-2, i+2, func(g *form) bool { return g.groove(i-max(i-2, 0), t) })
		}
	}
	grooves := f.grooves(f.axis, &f.form)
	for i, s := range f.form.spans {
		first := max(i-1, 0)
		k := i - first
		a, b := f.form.joints[i], f.form.joints[i+1]
		switch s.kind {
		case lineSpan:
			add(first, i+2, func(g *form) bool { g.spans[k] = span{arcSpan, 0.01}; return true })
			add(first, i+2, func(g *form) bool { g.spans[k] = span{arcSpan, -0.01}; return true })
			if b.s-a.s < f.smeared(a, b) && b.s-a.s < 3*math.Abs(b.r-a.r) {
				for _, t := range [3]float64{0, 0.5, 1} {
					add(first, i+2, func(g *form) bool { return g.upright(k, t) })
				}
			}
		case arcSpan:
			add(first, i+2, func(g *form) bool { g.spans[k] = span{}; return true })
			if b.s-a.s < f.smeared(a, b) {
				for _, t := range [3]float64{0.5, 0, 1} {
					add(first, i+2, func(g *form) bool { return g.upright(k, t) })
				}
			}
		case faceSpan:
			for _, d := range [2]float64{-0.4, 0.4} {
				add(first-1, i+3, func(g *form) bool { return g.slant(i-max(first-1, 0), d) })
			}
		}
		if i > 0 && i < n-2 { // leave a span out, its neighbours meeting
			add(i-1, i+2, func(g *form) bool { return g.shut(1) })
		}
		at, gap := f.breaks(i, x, at)
		for _, t := range at {
			for kinds := range 4 {
				add(first, i+2, func(g *form) bool { return g.split(k, t, kinds) })
			}
		}
		for _, d := range grooves {
			if mid := (d.from + d.to) / 2; s.kind == lineSpan && a.s < d.from && d.to < b.s {
				add(first, i+2, func(g *form) bool { return g.notch(k, (mid-a.s)/(b.s-a.s), d.to-d.from, -d.deep) })
			}
		}
		if len(at) > 0 && s.kind == lineSpan {
			for _, wide := range [2]float64{1.5, 3} {
				add(first, i+2, func(g *form) bool { return g.notch(k, at[0], wide, gap) })
			}
		}
	}
	for _, end := range [2]int{0, n - 1} {
		out = f.needles(f.endTrials(f.endMoved(out, end, at), end), end)
	}
	return out
}

// slantMost is how far apart, mm, the two ends of a slant may stand that might be a step:
// what a step in a photograph is smeared by, seen square to the axis.
const slantMost = 5.0

// smeared is how far apart the ends of a slant may stand that might be a step: seen
// aslant, its two rims lie apart in the photograph, and what lies between is hidden.
func (f *fitting) smeared(a, b joint) float64 {
	middle := r3.Add(f.axis.p, r3.Scale((a.s+b.s)/2, f.axis.u))
	cos := math.Abs(r3.Dot(r3.Unit(r3.Sub(f.cam.C, middle)), f.axis.u))
	return slantMost + math.Abs(b.r-a.r)*cos/math.Sqrt(max(1-cos*cos, 0.01))
}

// read is the radius that was read about a joint: the largest of a peak, the least of a pit.
func (f *fitting) read(i int) float64 {
	a, m, b := f.form.joints[i-1], f.form.joints[i], f.form.joints[i+1]
	r, found := m.r, false
	for _, st := range f.prof {
		if st.s < a.s || st.s > b.s || st.seen == notSeen {
			continue
		}
		if !found || m.r > a.r && st.r > r || m.r < a.r && st.r < r {
			r, found = st.r, true
		}
	}
	return r
}

// breaks are the shares of a span where its residuals turn most, the worst first, and how
// far outside the rays pass there, mm. Of a span that fits there are none.
func (f *fitting) breaks(i int, x []float64, at []graze) (out []float64, gap float64) {
	a, b := f.form.joints[i], f.form.joints[i+1]
	if f.form.spans[i].kind == faceSpan || b.s-a.s < 2*spanSplit {
		return nil, 0
	}
	bins := max(8, min(64, int(b.s-a.s)))
	sum, count, gaps := make([]float64, bins), make([]float64, bins), make([]float64, bins)
	for k, m := range at {
		if !m.ok || m.at.s < a.s || m.at.s > b.s {
			continue
		}
		j := min(bins-1, int(float64(bins)*(m.at.s-a.s)/(b.s-a.s)))
		sum[j] += max(-4*strayTold, min(4*strayTold, x[k]/f.scale))
		count[j]++
		gaps[j] += m.gap
	}
	chi, n, worst, most := 0.0, 0.0, 0, 0.0
	for j := range bins {
		if count[j] == 0 {
			continue
		}
		z := sum[j] * sum[j] / count[j] / independent
		chi, n = chi+z, n+1
		if z > most {
			worst, most = j, z
		}
	}
	if n < 3 || chi < n+3*math.Sqrt(2*n) {
		return nil, 0
	}
	t := (float64(worst) + 0.5) / float64(bins)
	for _, s := range [4]float64{t, 0.25, 0.5, 0.75} {
		if s*(b.s-a.s) > spanSplit/2 && (1-s)*(b.s-a.s) > spanSplit/2 {
			out = append(out, s)
		}
	}
	return out, gaps[worst] / count[worst]
}

// spanSplit is the shortest span, mm, that comes of a split.
const spanSplit = 1.0
