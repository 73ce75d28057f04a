package drawing

import "math"

type verb uint8

const (
	moveTo verb = iota
	lineTo
	curveTo
	closePath
)

// seg is one step of a path; a curve uses all three points, a move or line the
// first only.
type seg struct {
	verb verb
	p    [3]Point
}

// Path is a chain of lines and cubic curves, open or closed, of one or more
// contours. The zero Path is empty and ready to use. Its methods return the
// Path, so that calls can be chained.
type Path struct{ segs []seg }

// Move starts a new contour at p.
func (t *Path) Move(p Point) *Path {
	t.segs = append(t.segs, seg{moveTo, [3]Point{p}})
	return t
}

// Line goes straight to p. On an empty Path it starts there.
func (t *Path) Line(p Point) *Path {
	if len(t.segs) == 0 {
		return t.Move(p)
	}
	t.segs = append(t.segs, seg{lineTo, [3]Point{p}})
	return t
}

// Curve goes to p by the cubic with control points c1 and c2.
func (t *Path) Curve(c1, c2, p Point) *Path {
	if len(t.segs) == 0 {
		t.Move(c1)
	}
	t.segs = append(t.segs, seg{curveTo, [3]Point{c1, c2, p}})
	return t
}

// Close joins the contour's end to its start.
func (t *Path) Close() *Path {
	if len(t.segs) > 0 {
		t.segs = append(t.segs, seg{verb: closePath})
	}
	return t
}

// Arc goes along the circle about c of radius r, from angle from through sweep
// (degrees, clockwise on paper, from the x axis), with a line to its start.
//
// Each piece of at most 90 degrees is one cubic with handles 4/3 tan(sweep/4)
// times r, which strays from the circle by less than 0.03 % of r (Goldapp,
// "Approximation of circular arcs by cubic polynomials", CAGD 8, 1991).
func (t *Path) Arc(c Point, r, from, sweep float64) *Path {
	sweep = max(-360, min(360, sweep))
	n := max(1, int(math.Ceil(math.Abs(sweep)/90)))
	step := sweep / float64(n) * math.Pi / 180
	h := float64(4.0/3*math.Tan(step/4)) * r
	a := from * math.Pi / 180
	at := func(a float64) (p, tangent Point) {
		s, co := math.Sincos(a)
		return Point{c.X + float64(r*co), c.Y + float64(r*s)}, Point{-s, co}
	}
	p, u := at(a)
	t.Line(p)
	for i := range n {
		q, v := at(a + float64(float64(i+1)*step))
		t.Curve(p.Add(u.Mul(h)), q.Sub(v.Mul(h)), q)
		p, u = q, v
	}
	return t
}

// Polyline is an open Path through the points.
func Polyline(ps ...Point) *Path {
	t := &Path{}
	for _, p := range ps {
		t.Line(p)
	}
	return t
}

// Polygon is a closed Path through the points.
func Polygon(ps ...Point) *Path { return Polyline(ps...).Close() }

// Box is a closed Path round the rectangle.
func Box(r Rect) *Path {
	return Polygon(Pt(r.X, r.Y), Pt(r.X+r.W, r.Y), Pt(r.X+r.W, r.Y+r.H), Pt(r.X, r.Y+r.H))
}

// Circle is a closed Path.
func Circle(c Point, r float64) *Path { return (&Path{}).Arc(c, r, 0, 360).Close() }

// RoundBox is a rectangle with corners of radius r.
func RoundBox(b Rect, r float64) *Path {
	r = max(0, min(r, b.W/2, b.H/2))
	t := &Path{}
	t.Arc(Pt(b.X+b.W-r, b.Y+r), r, -90, 90)
	t.Arc(Pt(b.X+b.W-r, b.Y+b.H-r), r, 0, 90)
	t.Arc(Pt(b.X+r, b.Y+b.H-r), r, 90, 90)
	return t.Arc(Pt(b.X+r, b.Y+r), r, 180, 90).Close()
}

// Append adds the contours of other to the Path.
func (t *Path) Append(other *Path) *Path {
	t.segs = append(t.segs, other.segs...)
	return t
}

// Moved returns a copy moved by d.
func (t *Path) Moved(d Point) *Path {
	out := &Path{segs: make([]seg, len(t.segs))}
	for i, s := range t.segs {
		for j := range s.p {
			s.p[j] = s.p[j].Add(d)
		}
		out.segs[i] = s
	}
	return out
}

// Bounds is the box round all points of the Path, handles of curves included.
func (t *Path) Bounds() Rect {
	lo, hi := Pt(math.Inf(1), math.Inf(1)), Pt(math.Inf(-1), math.Inf(-1))
	for _, s := range t.segs {
		for _, p := range s.points() {
			lo = Pt(min(lo.X, p.X), min(lo.Y, p.Y))
			hi = Pt(max(hi.X, p.X), max(hi.Y, p.Y))
		}
	}
	if lo.X > hi.X {
		return Rect{}
	}
	return Rect{lo.X, lo.Y, hi.X - lo.X, hi.Y - lo.Y}
}

func (s *seg) points() []Point {
	switch s.verb {
	case moveTo, lineTo:
		return s.p[:1]
	case curveTo:
		return s.p[:]
	}
	return nil
}

// curveSteps is the number of chords a cubic is cut into for hatching. For a
// quarter circle of radius r a chord strays r(1-cos(pi/96)), 0.05 % of r:
// below a fine line's half width up to r = 168 mm.
const curveSteps = 24

// contours returns the Path as closed polygons, for hatching.
func (t *Path) contours() [][]Point {
	var out [][]Point
	for _, line := range t.chords() {
		if n := len(line) - 1; line[n] == line[0] {
			line = line[:n]
		}
		if len(line) > 2 {
			out = append(out, line)
		}
	}
	return out
}

// chords are the Path's contours as runs of straight lines: a closed one ends where
// it starts.
func (t *Path) chords() [][]Point {
	var out [][]Point
	var cur []Point
	flush := func() {
		if len(cur) > 1 {
			out = append(out, cur)
		}
		cur = nil
	}
	for _, s := range t.segs {
		switch s.verb {
		case moveTo:
			flush()
			cur = []Point{s.p[0]}
		case lineTo:
			cur = append(cur, s.p[0])
		case curveTo:
			if len(cur) == 0 {
				continue
			}
			a := cur[len(cur)-1]
			for i := 1; i <= curveSteps; i++ {
				cur = append(cur, bezier(a, s.p[0], s.p[1], s.p[2], float64(i)/curveSteps))
			}
		case closePath:
			// The next contour may start without a move, at this one's start.
			if len(cur) > 0 {
				start := cur[0]
				cur = append(cur, start)
				flush()
				cur = []Point{start}
			}
		}
	}
	flush()
	return out
}

// bezier is the cubic at t, by its Bernstein form.
func bezier(a, b, c, d Point, t float64) Point {
	u := 1 - t
	k0, k1, k2, k3 := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
	return Point{
		float64(k0*a.X) + float64(k1*b.X) + float64(k2*c.X) + float64(k3*d.X),
		float64(k0*a.Y) + float64(k1*b.Y) + float64(k2*c.Y) + float64(k3*d.Y),
	}
}
