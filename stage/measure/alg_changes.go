package measure

import "math"

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

// groove makes a square groove of a narrow pit at joint i, its floor at a share t of the pit's
// depth above it.
func (g *form) groove(i int, t float64) bool {
	if i < 1 || i > len(g.joints)-2 || i > 1 && g.spans[i-2].kind == faceSpan || i+1 < len(g.spans) && g.spans[i+1].kind == faceSpan {
		return false // a step lies beside it
	}
	a, m, b := g.joints[i-1], g.joints[i], g.joints[i+1]
	deep := min(a.r, b.r) - m.r
	if deep < leastStep || b.s-a.s > grooveWide || b.s-a.s < spanLeast {
		return false
	}
	r := m.r + t*deep
	g.joints = append(g.joints[:i], append([]joint{{a.s, r}, {b.s, r}}, g.joints[i+1:]...)...)
	g.spans = append(g.spans[:i-1], append([]span{{kind: faceSpan}, {}, {kind: faceSpan}}, g.spans[i+1:]...)...)
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
