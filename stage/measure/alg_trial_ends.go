package measure

import "math"

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
