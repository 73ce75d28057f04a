package drawing

import "math"

// flatLine is a contour of straight pieces, in pixels.
type flatLine struct {
	points []Point
	closed bool
}

// flat is the path in straight pieces, stretched by k.
func (t *Path) flat(k float64) []flatLine {
	var out []flatLine
	var cur flatLine
	flush := func() {
		if len(cur.points) > 1 {
			out = append(out, cur)
		}
		cur = flatLine{}
	}
	for _, s := range t.segs {
		switch s.verb {
		case moveTo:
			flush()
			cur.points = []Point{s.p[0].Mul(k)}
		case lineTo:
			cur.points = append(cur.points, s.p[0].Mul(k))
		case curveTo:
			if len(cur.points) == 0 {
				continue
			}
			a := cur.points[len(cur.points)-1].Mul(1 / k)
			// A chord strays from its cubic by less than a third of a pixel where the
			// steps go with the root of the length.
			long := a.Dist(s.p[0]) + s.p[0].Dist(s.p[1]) + s.p[1].Dist(s.p[2])
			n := max(2, min(64, int(math.Ceil(2*math.Sqrt(long*k)))))
			for i := 1; i <= n; i++ {
				cur.points = append(cur.points, bezier(a, s.p[0], s.p[1], s.p[2], float64(i)/float64(n)).Mul(k))
			}
		case closePath:
			if len(cur.points) > 0 {
				start := cur.points[0]
				cur.closed = true
				flush()
				cur.points = []Point{start}
			}
		}
	}
	flush()
	return out
}

// dashed cuts a line into its dashes.
func dashed(l flatLine, dash []float64, k float64) []flatLine {
	if len(dash) == 0 {
		return []flatLine{l}
	}
	points := l.points
	if l.closed {
		points = append(points[:len(points):len(points)], points[0])
	}
	var out []flatLine
	var cur []Point
	n, left := 0, dash[0]*k
	down := true
	cur = append(cur, points[0])
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		long := a.Dist(b)
		for done := 0.0; done < long; {
			step := min(left, long-done)
			done += step
			left -= step
			at := a
			if long > 0 {
				at = a.Add(b.Sub(a).Mul(done / long))
			}
			if down {
				cur = append(cur, at)
			}
			if left > 0 {
				continue
			}
			if down {
				out = append(out, flatLine{points: cur})
			}
			down, cur = !down, nil
			if down {
				cur = []Point{at}
			}
			n++
			left = max(dash[n%len(dash)]*k, 1e-3) // a dash of nothing still ends
		}
	}
	if down && len(cur) > 1 {
		out = append(out, flatLine{points: cur})
	}
	return out
}

// thinnest a stroke is drawn, in pixels: below, it would break up.
const thinnestStroke = 0.8

// stroke adds the outline of a line so many pixels wide, butt at its ends and
// round at its corners, as pieces that all turn one way.
func (f *filler) stroke(l flatLine, wide float64) {
	half := max(wide, thinnestStroke) / 2
	ps := l.points
	n := len(ps)
	if l.closed {
		n++
	}
	for i := 1; i < n; i++ {
		a, b := ps[i-1], ps[i%len(ps)]
		d := a.Dist(b)
		if d == 0 {
			continue
		}
		u := b.Sub(a).Mul(half / d)
		v := Pt(-u.Y, u.X)
		f.polygon([]Point{a.Add(v), a.Sub(v), b.Sub(v), b.Add(v)})
	}
	if half < 0.6 {
		return // corners of so thin a line need no rounding
	}
	for i, p := range ps {
		if !l.closed && (i == 0 || i == len(ps)-1) {
			continue
		}
		f.disc(p, half)
	}
}

// disc adds a disc that turns as the pieces of a stroke do.
func (f *filler) disc(c Point, r float64) {
	n := max(8, int(4*math.Sqrt(r))*2)
	ps := make([]Point, n)
	for i := range ps {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		ps[i] = Pt(c.X+float64(r*cos), c.Y+float64(r*sin))
	}
	f.polygon(ps)
}
