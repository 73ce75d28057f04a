package solid

import "math"

// ClipRectangle returns a detail: the stretches of the lines in a rectangle of the
// paper, and the cut faces in it. Lines are cut exactly; what runs along the
// frame is inside.
func (p Projection) ClipRectangle(low, high Point) Projection {
	frame := []Point{low, {high[0], low[1]}, high, {low[0], high[1]}}
	return p.clipped(frame, func(a, b Point) (float64, float64) {
		from, to := 0.0, 1.0
		for k := range 2 {
			// Twice a half-plane: what must not be negative at both ends.
			for _, e := range [2][2]float64{{a[k] - low[k], b[k] - low[k]}, {high[k] - a[k], high[k] - b[k]}} {
				switch {
				case e[0] < 0 && e[1] < 0:
					return 1, 0
				case e[0] < 0:
					from = max(from, e[0]/(e[0]-e[1]))
				case e[1] < 0:
					to = min(to, e[0]/(e[0]-e[1]))
				}
			}
		}
		return from, to
	})
}

// clipSagitta is how far the polygon that clips cut faces is from the circle,
// relative to its radius. Lines are clipped by the circle itself.
const clipSagitta = 1e-4

// ClipCircle returns a detail: the stretches of the lines in a circle of the
// paper, and the cut faces in it. Lines are cut at the circle to a rounding; the
// cut faces by a polygon within 10⁻⁴ of the radius of it.
func (p Projection) ClipCircle(centre Point, radius float64) Projection {
	if !(radius > 0) {
		return Projection{Frame: p.Frame}
	}
	n, err := SegmentsFor(radius, clipSagitta*radius)
	if err != nil {
		return Projection{Frame: p.Frame} // a radius that no length has
	}
	frame := make([]Point, n)
	for i := range frame {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		frame[i] = Point{centre[0] + float64(radius*cos), centre[1] + float64(radius*sin)}
	}
	return p.clipped(frame, func(a, b Point) (float64, float64) {
		// |a + t·(b − a) − centre| = radius, by the middle of the two solutions.
		d, o := b.sub(a), a.sub(centre)
		l2 := dot2(d, d)
		if l2 == 0 {
			if dot2(o, o) > radius*radius {
				return 1, 0
			}
			return 0, 1
		}
		middle, off := -dot2(o, d)/l2, cross2(o, d)
		half2 := (radius*radius - off*off/l2) / l2
		if !(half2 > 0) {
			return 1, 0
		}
		half := math.Sqrt(half2)
		return max(0, middle-half), min(1, middle+half)
	})
}

// clipped keeps of every line the stretches that inside allows, from 0 to 1 along
// each of its segments, and of cut faces what is in a convex frame.
func (p Projection) clipped(frame []Point, inside func(a, b Point) (from, to float64)) Projection {
	out := Projection{Frame: p.Frame}
	for _, l := range p.Lines {
		var row Polyline
		end := func() {
			if len(row.Points) > 1 {
				out.Lines = append(out.Lines, row)
			}
			row = Polyline{Solid: l.Solid, Other: l.Other, Kind: l.Kind, Hidden: l.Hidden}
		}
		end()
		add := func(i int, t float64) {
			a, b := l.Points[i-1], l.Points[i]
			da, db := l.Depths[i-1], l.Depths[i]
			switch t {
			case 0:
				b, db = a, da
			case 1:
			default:
				b = Point{a[0] + float64(t*(b[0]-a[0])), a[1] + float64(t*(b[1]-a[1]))}
				db = da + float64(t*(db-da))
			}
			row.Points, row.Depths = append(row.Points, b), append(row.Depths, db)
		}
		for i := 1; i < len(l.Points); i++ {
			from, to := inside(l.Points[i-1], l.Points[i])
			if !(from < to) {
				end()
				continue
			}
			if from > 0 || len(row.Points) == 0 {
				end()
				add(i, from)
			}
			add(i, to)
			if to < 1 {
				end()
			}
		}
		end()
	}
	for _, c := range p.Cuts {
		kept := CutFace{Solid: c.Solid}
		for _, r := range c.Regions {
			outer := clipLoop(r.Outer, frame)
			if outer == nil {
				continue
			}
			in := Region{Outer: outer}
			for _, hole := range r.Holes {
				if hole = clipLoop(hole, frame); hole != nil {
					in.Holes = append(in.Holes, hole)
				}
			}
			kept.Regions = append(kept.Regions, in)
		}
		if len(kept.Regions) > 0 {
			out.Cuts = append(out.Cuts, kept)
		}
	}
	return out
}

// clipLoop keeps of a loop what lies in a convex frame, one side of it after the
// other (I. Sutherland and G. Hodgman, "Reentrant polygon clipping", Commun. ACM
// 17 (1974) 32–42). Parts of it may stay joined along the frame, which neither an
// area nor a hatch sees. Nil: nothing is left.
func clipLoop(loop, frame []Point) []Point {
	for i, p := range frame {
		q := frame[(i+1)%len(frame)]
		side := func(x Point) float64 { return cross2(q.sub(p), x.sub(p)) }
		var kept []Point
		for j, b := range loop {
			a := loop[(j+len(loop)-1)%len(loop)]
			sa, sb := side(a), side(b)
			if sa < 0 != (sb < 0) {
				t := sa / (sa - sb)
				kept = append(kept, Point{a[0] + float64(t*(b[0]-a[0])), a[1] + float64(t*(b[1]-a[1]))})
			}
			if sb >= 0 {
				kept = append(kept, b)
			}
		}
		loop = kept
	}
	if len(loop) < 3 {
		return nil
	}
	return loop
}
