package main

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/stage/measure"
)

// scoreMat is how well crossings were found, rms px of those within 3 px of a true
// one, and how true the mat's map is, rms mm over all crossings that can be seen.
func (s *sample) scoreMat(r measure.Result) (px, mm float64) {
	px, mm = math.NaN(), math.NaN()
	near := newNear(8)
	var at, is []r2.Vec
	lens, known := r.Lens, r.Lens.F > 0
	for _, c := range s.truth.Mat.Crossings {
		near.add(c.Px)
		if !c.Visible || !known {
			continue
		}
		if p, ok := lens.OnPlane(r2.Vec{X: c.Px[0], Y: c.Px[1]}, 0); ok {
			at, is = append(at, r2.Vec{X: p.X, Y: p.Y}), append(is, r2.Vec{X: c.True[0], Y: c.True[1]})
		}
	}
	ss, n := 0.0, 0
	for _, m := range r.Marks {
		if d := near.distance([2]float64{m.Px.X, m.Px.Y}); d < 3 {
			ss, n = ss+d*d, n+1
		}
	}
	if n > 0 {
		px = math.Sqrt(ss / float64(n))
	}
	if len(at) > 2 {
		mm = rigid(at, is)
	}
	return px, mm
}

// rigid is the rms distance of two sets of points after the best shift and turn
// (Horn 1987 in the plane: the turn's angle is that of the summed products). A
// mat's origin and its quarter turns are free, and so drop out.
func rigid(a, b []r2.Vec) float64 {
	n := float64(len(a))
	var ma, mb r2.Vec
	for i := range a {
		ma, mb = r2.Add(ma, r2.Scale(1/n, a[i])), r2.Add(mb, r2.Scale(1/n, b[i]))
	}
	var dot, cross float64
	for i := range a {
		p, q := r2.Sub(a[i], ma), r2.Sub(b[i], mb)
		dot, cross = dot+r2.Dot(p, q), cross+r2.Cross(p, q)
	}
	h := math.Hypot(dot, cross)
	if h == 0 {
		return math.NaN()
	}
	cos, sin := dot/h, cross/h
	ss := 0.0
	for i := range a {
		p, q := r2.Sub(a[i], ma), r2.Sub(b[i], mb)
		ss += r2.Norm2(r2.Sub(r2.Vec{X: cos*p.X - sin*p.Y, Y: sin*p.X + cos*p.Y}, q))
	}
	return math.Sqrt(ss / n)
}

// near finds the distance to the nearest of many points, through a raster.
type near struct {
	cell float64
	pts  map[[2]int][][2]float64
}

func newNear(cell float64) *near { return &near{cell, map[[2]int][][2]float64{}} }

func (n *near) key(p [2]float64) [2]int {
	return [2]int{int(math.Floor(p[0] / n.cell)), int(math.Floor(p[1] / n.cell))}
}

func (n *near) add(p [2]float64) { n.pts[n.key(p)] = append(n.pts[n.key(p)], p) }

// farthest is how many cells about a point are searched; beyond, all is as far.
const farthest = 5

func (n *near) distance(p [2]float64) float64 {
	k := n.key(p)
	best := farthest * n.cell
	for ring := 0; ring <= farthest && float64(ring-1)*n.cell < best; ring++ {
		for dy := -ring; dy <= ring; dy++ {
			for dx := -ring; dx <= ring; dx++ {
				if max(dx, -dx, dy, -dy) != ring {
					continue
				}
				for _, q := range n.pts[[2]int{k[0] + dx, k[1] + dy}] {
					best = min(best, math.Hypot(p[0]-q[0], p[1]-q[1]))
				}
			}
		}
	}
	return best
}
