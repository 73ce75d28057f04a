package solid

import "math"

// Vec is a point or a direction in space: x, y, z.
type Vec [3]float64

// Point is a point in a plane: x, y, or r, z of a profile.
type Point [2]float64

// Products are written float64(a*b) throughout the package: without the
// conversion a compiler may fuse the product into the sum that follows (the Go
// specification allows it, arm64 does it, amd64 doesn't) and the last bit of a
// coordinate would depend on the machine.

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v[0] + w[0], v[1] + w[1], v[2] + w[2]} }

// Sub returns v − w.
func (v Vec) Sub(w Vec) Vec { return Vec{v[0] - w[0], v[1] - w[1], v[2] - w[2]} }

// Scale returns f·v.
func (v Vec) Scale(f float64) Vec { return Vec{f * v[0], f * v[1], f * v[2]} }

// Dot returns the scalar product.
func (v Vec) Dot(w Vec) float64 {
	return float64(v[0]*w[0]) + float64(v[1]*w[1]) + float64(v[2]*w[2])
}

// Cross returns the vector product.
func (v Vec) Cross(w Vec) Vec {
	return Vec{
		float64(v[1]*w[2]) - float64(v[2]*w[1]),
		float64(v[2]*w[0]) - float64(v[0]*w[2]),
		float64(v[0]*w[1]) - float64(v[1]*w[0]),
	}
}

// Length returns the Euclidean length.
func (v Vec) Length() float64 { return math.Sqrt(v.Dot(v)) }

// Unit returns v at length 1, and the zero vector for the zero vector.
func (v Vec) Unit() Vec {
	// Scaled first, so that neither 1e-200 nor 1e200 is lost in the squares.
	m := math.Max(math.Abs(v[0]), math.Max(math.Abs(v[1]), math.Abs(v[2])))
	if m == 0 {
		return Vec{}
	}
	w := Vec{v[0] / m, v[1] / m, v[2] / m}
	l := w.Length()
	return Vec{w[0] / l, w[1] / l, w[2] / l}
}

func (v Vec) finite() bool {
	// x − x is zero for every finite x and NaN for the rest.
	return v[0]-v[0] == 0 && v[1]-v[1] == 0 && v[2]-v[2] == 0
}

func (p Point) sub(q Point) Point { return Point{p[0] - q[0], p[1] - q[1]} }

func (p Point) finite() bool { return p[0]-p[0] == 0 && p[1]-p[1] == 0 }

func cross2(p, q Point) float64 { return float64(p[0]*q[1]) - float64(p[1]*q[0]) }

func dot2(p, q Point) float64 { return float64(p[0]*q[0]) + float64(p[1]*q[1]) }

func dist2(p, q Point) float64 {
	d := p.sub(q)
	return math.Sqrt(dot2(d, d))
}
