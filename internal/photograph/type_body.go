package photograph

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// fin is a flat plate along the axis: a convex polygon of (station, radius) at a
// clock angle, radians from the horizontal.
type fin struct {
	clock, thick float64
	poly         [][2]float64
}

// plate is a prism across the axis, such as a hexagon; the first face's normal
// is at the clock angle.
type plate struct {
	s0, s1, apothem, clock float64
	sides                  int
}

// shape is a body about its own axis.
type shape struct {
	kind   string
	segs   []segment
	fins   []fin
	plates []plate
}

// body is a shape that lies somewhere, made ready for rays. Its own directions are
// u along the axis, v horizontal, w up; a point of its own is (station, along v,
// along w).
type body struct {
	shape
	p0, u, v, w  r3.Vec
	azimuth, dip float64 // dip: how far the axis rises, radians

	fr      []frustum
	first   []int // by station, whole binWidths: the first frustum that reaches it
	length  float64
	rmax    float64
	solids  []solid
	reach   float64 // of a ball about the axis's middle that holds all
	concave bool
}

// solid is a convex body: all points with n·p ≤ d for every plane.
type solid struct {
	n []r3.Vec
	d []float64
}

const binWidth = 0.5 // mm of axis

func newBody(s shape) *body {
	b := &body{shape: s, fr: frusta(s.segs), length: lengthOf(s.segs), rmax: widest(s.segs)}
	for k := 0; k <= int(b.length/binWidth)+1; k++ {
		i := 0
		for i < len(b.fr)-1 && b.fr[i].s1 < float64(k)*binWidth {
			i++
		}
		b.first = append(b.first, i)
	}
	b.reach = math.Hypot(b.length/2, b.rmax)
	for _, f := range s.fins {
		b.solids = append(b.solids, f.solid())
		for _, p := range f.poly {
			b.reach = max(b.reach, math.Hypot(p[0]-b.length/2, math.Hypot(p[1], f.thick)))
		}
	}
	for _, p := range s.plates {
		b.solids = append(b.solids, p.solid())
		b.reach = max(b.reach, math.Hypot(max(b.length/2-p.s0, p.s1-b.length/2), p.corner()))
	}
	b.concave = len(b.solids) > 0
	return b
}

// corner is the radius of a plate's corners.
func (p plate) corner() float64 { return p.apothem / math.Cos(math.Pi/float64(p.sides)) }

func (f fin) solid() (out solid) {
	sin, cos := math.Sincos(f.clock)
	across := r3.Vec{Y: -sin, Z: cos}
	out.add(across, f.thick/2)
	out.add(r3.Scale(-1, across), f.thick/2)
	var mid [2]float64
	for _, p := range f.poly {
		mid[0] += p[0] / float64(len(f.poly))
		mid[1] += p[1] / float64(len(f.poly))
	}
	for i, p := range f.poly {
		q := f.poly[(i+1)%len(f.poly)]
		ns, nr := q[1]-p[1], p[0]-q[0]
		if ns*(mid[0]-p[0])+nr*(mid[1]-p[1]) > 0 {
			ns, nr = -ns, -nr
		}
		h := math.Hypot(ns, nr)
		out.add(r3.Vec{X: ns / h, Y: nr / h * cos, Z: nr / h * sin}, (ns*p[0]+nr*p[1])/h)
	}
	return out
}

func (p plate) solid() (out solid) {
	out.add(r3.Vec{X: 1}, p.s1)
	out.add(r3.Vec{X: -1}, -p.s0)
	for k := range p.sides {
		sin, cos := math.Sincos(p.clock + 2*math.Pi*float64(k)/float64(p.sides))
		out.add(r3.Vec{Y: cos, Z: sin}, p.apothem)
	}
	return out
}

func (s *solid) add(n r3.Vec, d float64) {
	s.n, s.d = append(s.n, n), append(s.d, d)
}

// own takes a world point into the body's own coordinates.
func (b *body) own(p r3.Vec) r3.Vec { return b.ownDir(r3.Sub(p, b.p0)) }

func (b *body) ownDir(d r3.Vec) r3.Vec {
	return r3.Vec{X: r3.Dot(d, b.u), Y: r3.Dot(d, b.v), Z: r3.Dot(d, b.w)}
}

// world is the inverse of own.
func (b *body) world(p r3.Vec) r3.Vec { return r3.Add(b.p0, b.worldDir(p)) }

func (b *body) worldDir(d r3.Vec) r3.Vec {
	return r3.Add(r3.Add(r3.Scale(d.X, b.u), r3.Scale(d.Y, b.v)), r3.Scale(d.Z, b.w))
}

// middle is the middle of the axis, in the body's own coordinates.
func (b *body) middle() r3.Vec { return r3.Vec{X: b.length / 2} }
