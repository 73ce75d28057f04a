package measure

import "math"

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
	}
	for i, s := range f.form.spans {
		first := max(i-1, 0)
		k := i - first
		a, b := f.form.joints[i], f.form.joints[i+1]
		switch s.kind {
		case lineSpan:
			add(first, i+2, func(g *form) bool { g.spans[k] = span{arcSpan, 0.01}; return true })
			add(first, i+2, func(g *form) bool { g.spans[k] = span{arcSpan, -0.01}; return true })
			if b.s-a.s < slantMost && b.s-a.s < 3*math.Abs(b.r-a.r) {
				for _, t := range [3]float64{0, 0.5, 1} {
					add(first, i+2, func(g *form) bool { return g.upright(k, t) })
				}
			}
		case arcSpan:
			add(first, i+2, func(g *form) bool { g.spans[k] = span{}; return true })
			if b.s-a.s < slantMost {
				add(first, i+2, func(g *form) bool { return g.upright(k, 0.5) })
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
// what a step in a photograph is smeared by.
const slantMost = 5.0

// leaveOut takes joint i out, one span in place of two.
func (g *form) leaveOut(i int, kind spanKind) bool {
	if i <= 0 || i >= len(g.joints)-1 {
		return false
	}
	a, b, m := g.joints[i-1], g.joints[i+1], g.joints[i]
	c := math.Hypot(b.s-a.s, b.r-a.r)
	if b.s <= a.s || c == 0 {
		return false
	}
	s := span{kind: kind}
	if kind == arcSpan {
		s.rise = ((m.r-a.r)*(b.s-a.s) - (m.s-a.s)*(b.r-a.r)) / c
		s.rise = max(-c/2, min(c/2, s.rise))
	}
	g.joints = append(g.joints[:i], g.joints[i+1:]...)
	g.spans[i-1] = s
	g.spans = append(g.spans[:i], g.spans[i+1:]...)
	return true
}

// severalMost is how many spans are tried as one.
const severalMost = 5

// sweep puts one span in place of k from joint i on.
func (g *form) sweep(i, k int, kind spanKind) bool {
	for _, s := range g.spans[i : i+k] {
		if s.kind == faceSpan {
			return false
		}
	}
	m := g.joints[i+k/2]
	g.joints = append(g.joints[:i+1], append([]joint{m}, g.joints[i+k:]...)...)
	g.spans = append(g.spans[:i+2], g.spans[i+k:]...)
	return g.leaveOut(i+1, kind)
}

// notch puts a groove, or a collar, into span i at a share t of it: so wide, and so much
// larger in radius, mm.
func (g *form) notch(i int, t, wide, rise float64) bool {
	a, b := g.joints[i], g.joints[i+1]
	s := a.s + t*(b.s-a.s)
	lo, hi := s-wide/2, s+wide/2
	if lo < a.s+spanLeast || hi > b.s-spanLeast || math.Abs(rise) < leastStep {
		return false
	}
	r := a.r + t*(b.r-a.r)
	if r+rise < leastRadius {
		return false
	}
	g.joints = append(g.joints[:i+1], append([]joint{{lo, r}, {lo, r + rise}, {hi, r + rise}, {hi, r}}, g.joints[i+1:]...)...)
	g.spans = append(g.spans[:i], append([]span{{}, {kind: faceSpan}, {}, {kind: faceSpan}, {}}, g.spans[i+1:]...)...)
	return true
}

// upright makes span i a face, standing at a share t of it.
func (g *form) upright(i int, t float64) bool {
	if i > 0 && g.spans[i-1].kind == faceSpan || i < len(g.spans)-1 && g.spans[i+1].kind == faceSpan {
		return false
	}
	s := g.joints[i].s + t*(g.joints[i+1].s-g.joints[i].s)
	g.joints[i].s, g.joints[i+1].s = s, s
	g.spans[i] = span{kind: faceSpan}
	return true
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

// plateau puts a flat of radius r between two faces where two slants meet.
func (g *form) plateau(i int, r float64) bool {
	if i < 2 || i > len(g.joints)-3 || g.spans[i-2].kind == faceSpan || g.spans[i+1].kind == faceSpan {
		return false
	}
	a, m, b := g.joints[i-1], g.joints[i], g.joints[i+1]
	if (m.r > a.r) != (m.r > b.r) || math.Abs(m.r-a.r) < leastStep || math.Abs(m.r-b.r) < leastStep || b.s-a.s > 2*slantMost {
		return false
	}
	lo, hi := (a.s+m.s)/2, (m.s+b.s)/2
	if hi-lo < spanLeast {
		lo, hi = m.s-spanLeast, m.s+spanLeast
	}
	g.joints[i-1].s, g.joints[i+1].s = lo, hi
	g.joints = append(g.joints[:i], append([]joint{{lo, r}, {hi, r}}, g.joints[i+1:]...)...)
	g.spans = append(g.spans[:i-1], append([]span{{kind: faceSpan}, {}, {kind: faceSpan}}, g.spans[i+1:]...)...)
	return true
}

// slant leans a face by d mm.
func (g *form) slant(i int, d float64) bool {
	if i <= 0 || i >= len(g.spans)-1 {
		return false
	}
	a, b := &g.joints[i], &g.joints[i+1]
	if d < 0 {
		a.s = max(a.s+d, (g.joints[i-1].s+a.s)/2)
	} else {
		b.s = min(b.s+d, (g.joints[i+2].s+b.s)/2)
	}
	g.spans[i] = span{}
	return true
}

// shut takes span i out, its neighbours meeting between its ends.
func (g *form) shut(i int) bool {
	a, b := g.joints[i], g.joints[i+1]
	if g.spans[i-1].kind == faceSpan && g.spans[i+1].kind == faceSpan {
		return false
	}
	m := joint{(a.s + b.s) / 2, (a.r + b.r) / 2}
	if g.spans[i-1].kind == faceSpan {
		m.s = a.s
	}
	if g.spans[i+1].kind == faceSpan {
		m.s = b.s
	}
	g.joints[i] = m
	g.joints = append(g.joints[:i+1], g.joints[i+2:]...)
	g.spans = append(g.spans[:i], g.spans[i+1:]...)
	return true
}

// split puts a joint into span i at a share t of it; the bits of kinds say which of the
// two are arcs.
func (g *form) split(i int, t float64, kinds int) bool {
	a, b := g.joints[i], g.joints[i+1]
	if b.s <= a.s {
		return false
	}
	part := form{[]joint{a, b}, []span{g.spans[i]}}
	s := a.s + t*(b.s-a.s)
	r, _ := part.at(s)
	m := joint{s, r}
	half := [2]span{}
	if g.spans[i].kind == arcSpan {
		half[0].rise, half[1].rise = g.spans[i].rise*t*t, g.spans[i].rise*(1-t)*(1-t)
	}
	for k := range half {
		if kinds>>k&1 == 0 {
			half[k] = span{}
			continue
		}
		half[k].kind = arcSpan
		if half[k].rise == 0 {
			half[k].rise = 0.01
		}
	}
	g.joints = append(g.joints[:i+1], append([]joint{m}, g.joints[i+1:]...)...)
	g.spans = append(g.spans[:i], append(half[:], g.spans[i+1:]...)...)
	return true
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

// endMoved is an end put out to where most of the rays that touch its rim pass: it was begun where
// the edge crosses the axis, and a printed line or a scratch can notch the edge just there.
func (f *fitting) endMoved(out []trial, end int, at []graze) []trial {
	n := len(f.form.joints)
	step, width := 1, 1 // joints of the end's face
	if end > 0 {
		step = -1
	}
	for width < n-1 && math.Abs(f.form.joints[end+width*step].s-f.form.joints[end].s) < faceLies {
		width++
	}
	rim := f.form.joints[end+(width-1)*step]
	var gaps []float64
	for _, m := range at {
		if m.ok && m.at == rim {
			gaps = append(gaps, m.gap)
		}
	}
	if len(gaps) < leastRim {
		return out
	}
	by := median(gaps)
	if by < rimOff {
		return out
	}
	by *= float64(step)
	first, last := min(end, end+(width+1)*step), max(end, end+(width+1)*step)
	first, last = max(first, 0), min(last, n-1)
	g := f.form.stretch(first, last)
	for k := range width {
		g.joints[end+k*step-first].s -= by
	}
	return append(out, trial{first: first, last: last, form: g})
}

// leastRim is how many rays tell where a rim is, and rimOff how far off, mm, they must pass
// for it to be moved at once.
const (
	leastRim = 10
	rimOff   = 0.2
	faceLies = 0.5 // mm of the axis that an end's face may take
)

// cutBack are radii, mm, at which a needle is tried to end: a tip is so narrow there that its
// last pixels hardly tell where it ends.
var cutBack = [3]float64{0.3, 0.6, 1}

// endTrials are other ends: blunt in place of a tip, a tip in place of what is blunt.
func (f *fitting) endTrials(out []trial, end int) []trial {
	n := len(f.form.joints)
	first, last, tip, next := 0, min(2, n-1), 0, 1
	if end > 0 {
		first, last = max(n-3, 0), n-1
		tip, next = last-first, last-first-1
	}
	put := func(change func(g *form)) {
		g := f.form.stretch(first, last)
		change(&g)
		out = append(out, trial{first: first, last: last, form: g})
	}
	if f.form.joints[end].r == 0 {
		put(func(g *form) { g.joints[tip].r = 0.3 })
		for _, r := range cutBack {
			if a, b := f.form.joints[end], f.form.joints[first+next]; b.r > r {
				t := r / b.r
				put(func(g *form) {
					g.joints[tip] = joint{a.s + t*(b.s-a.s), r}
					g.spans[min(tip, next)] = span{}
				})
			}
		}
		if n > 2 {
			put(func(g *form) { // without the cap
				if end == 0 {
					g.joints, g.spans = g.joints[1:], g.spans[1:]
				} else {
					g.joints, g.spans = g.joints[:tip], g.spans[:next]
				}
			})
		}
		return out
	}
	put(func(g *form) { g.joints[tip].r = 0 })
	put(func(g *form) { g.runOut(tip, next) })
	r := f.form.joints[end].r
	for _, share := range [2]float64{0.15, 0.5} {
		put(func(g *form) {
			c := joint{g.joints[tip].s, 0}
			s := span{arcSpan, 0.2 * r}
			if end == 0 {
				g.joints[0].s += share * r
				g.joints, g.spans = append([]joint{c}, g.joints...), append([]span{s}, g.spans...)
			} else {
				g.joints[tip].s -= share * r
				g.joints, g.spans = append(g.joints, c), append(g.spans, s)
			}
		})
	}
	return out
}

// needles are ends that a line farther in runs out to, at the axis or cut off before it,
// whatever the edge seems to do between: a printed line that crosses a needle looks like a
// shoulder of it.
func (f *fitting) needles(out []trial, end int) []trial {
	n := len(f.form.joints)
	step := 1
	if end > 0 {
		step = -1
	}
	for k := 1; k <= needleSpans && k < n-1; k++ {
		i := end + k*step // the line's joint towards the end
		a, b := f.form.joints[i], f.form.joints[i+step]
		if s := f.form.spans[min(i, i+step)]; s.kind != lineSpan || b.r <= a.r || a.s == b.s {
			continue
		}
		first, last := min(end, i+2*step), max(end, i+2*step)
		first, last = max(first, 0), min(last, n-1)
		for _, r := range append(cutBack[:], 0) {
			if r >= a.r {
				continue
			}
			g := f.form.stretch(first, last)
			tip := joint{a.s - (a.r-r)*(b.s-a.s)/(b.r-a.r), r}
			if end == 0 {
				g.joints, g.spans = g.joints[k:], g.spans[k:]
				g.joints[0] = tip
			} else {
				m := len(g.joints) - 1 - k
				g.joints, g.spans = g.joints[:m+1], g.spans[:m]
				g.joints[m] = tip
			}
			out = append(out, trial{first: first, last: last, form: g})
		}
	}
	return out
}

// needleSpans is how many spans from an end a needle's line may begin.
const needleSpans = 3

// runOut carries the last span on to the axis, as the arc or the line that it is.
func (g *form) runOut(tip, next int) {
	k := min(tip, next)
	out := math.Copysign(1, g.joints[tip].s-g.joints[next].s)
	end := g.joints[tip]
	switch s := &g.spans[k]; s.kind {
	case arcSpan:
		c := arcOver(g.joints[k], g.joints[k+1], s.rise)
		if c.bend > math.Abs(c.r) {
			end.s = c.s + out*math.Sqrt(c.bend*c.bend-c.r*c.r)
		} else {
			end.s += out * end.r
		}
		m := g.joints[next]
		half := math.Hypot(end.s-m.s, m.r) / 2
		s.rise = math.Copysign(math.Abs(c.bend)-math.Sqrt(max(0, c.bend*c.bend-half*half)), s.rise)
	default:
		m := g.joints[next]
		if fall := m.r - end.r; fall > 0 {
			end.s += (end.s - m.s) * min(1, end.r/fall)
		}
	}
	end.r = 0
	g.joints[tip] = end
}
