package drawing

// Mapped returns a copy with every point taken through f, which should be affine:
// the handles of curves are taken as points are.
func (t *Path) Mapped(f func(Point) Point) *Path {
	out := &Path{segs: make([]seg, len(t.segs))}
	for i, s := range t.segs {
		for j := range s.points() {
			s.p[j] = f(s.p[j])
		}
		out.segs[i] = s
	}
	return out
}

// Empty reports whether nothing is drawn by the Path.
func (t *Path) Empty() bool { return len(t.segs) == 0 }

// Clipped returns the area of the Path inside the box, curves in straight pieces
// (Sutherland and Hodgman, "Reentrant polygon clipping", CACM 17(1), 1974): right
// for filling by either rule; along the box's edges it has edges of its own, so
// that lines are drawn by [Path.Within].
func (t *Path) Clipped(r Rect) *Path {
	if r.Contains(t.Bounds()) {
		return t
	}
	out := &Path{}
	for _, l := range t.flat(1) {
		ps := l.points
		ps = clipEdge(ps, func(p Point) float64 { return p.X - r.X })
		ps = clipEdge(ps, func(p Point) float64 { return r.X + r.W - p.X })
		ps = clipEdge(ps, func(p Point) float64 { return p.Y - r.Y })
		ps = clipEdge(ps, func(p Point) float64 { return r.Y + r.H - p.Y })
		if len(ps) > 2 {
			out.Append(Polygon(ps...))
		}
	}
	return out
}

// clipEdge keeps what lies where in is not negative.
func clipEdge(ps []Point, in func(Point) float64) []Point {
	var out []Point
	for i, b := range ps {
		a := ps[(i+len(ps)-1)%len(ps)]
		da, db := in(a), in(b)
		if (da >= 0) != (db >= 0) {
			out = append(out, a.Add(b.Sub(a).Mul(da/(da-db))))
		}
		if db >= 0 {
			out = append(out, b)
		}
	}
	return out
}

// Within returns the lines of the Path that run inside the box, curves in straight
// pieces.
func (t *Path) Within(r Rect) *Path {
	if r.Contains(t.Bounds()) {
		return t
	}
	out := &Path{}
	for _, l := range t.flat(1) {
		n := len(l.points)
		if l.closed {
			n++
		}
		down := false
		for i := 1; i < n; i++ {
			a, b, ok := r.Cut(l.points[i-1], l.points[i%len(l.points)])
			if !ok {
				down = false
				continue
			}
			if !down || a != l.points[i-1] {
				out.Move(a)
			}
			out.Line(b)
			down = true
		}
	}
	return out
}

// Cut returns the part of the segment a-b inside the box, edges included; false
// where there is none (Liang and Barsky, as in crossesSegment).
func (r Rect) Cut(a, b Point) (Point, Point, bool) {
	d := b.Sub(a)
	lo, hi := 0.0, 1.0
	for _, e := range [4][2]float64{
		{-d.X, a.X - r.X}, {d.X, r.X + r.W - a.X}, {-d.Y, a.Y - r.Y}, {d.Y, r.Y + r.H - a.Y},
	} {
		switch p, q := e[0], e[1]; {
		case p == 0:
			if q < 0 {
				return a, b, false
			}
		case p < 0:
			lo = max(lo, q/p)
		default:
			hi = min(hi, q/p)
		}
	}
	if lo > hi {
		return a, b, false
	}
	p, q := a, b
	if lo > 0 {
		p = a.Add(d.Mul(lo))
	}
	if hi < 1 {
		q = a.Add(d.Mul(hi))
	}
	return p, q, true
}

// Segments are the straight pieces of the Path, curves cut into chords.
func (t *Path) Segments() []Segment {
	var out []Segment
	for _, l := range t.flat(1) {
		for i := 1; i < len(l.points); i++ {
			out = append(out, Segment{l.points[i-1], l.points[i]})
		}
		if n := len(l.points); l.closed && n > 2 {
			out = append(out, Segment{l.points[n-1], l.points[0]})
		}
	}
	return out
}
