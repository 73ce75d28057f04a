package solid

import "math"

// Plane is the set of points with Normal·p = Offset. The normal need not have
// length 1, but the distance from the origin is Offset/|Normal|. The zero value
// is no plane; functions refuse it with a [*ValueError].
type Plane struct {
	Normal Vec
	Offset float64
}

// PlaneZ returns the plane z = station, normal up.
func PlaneZ(station float64) Plane { return Plane{Vec{0, 0, 1}, station} }

// Side returns Normal·p − Offset: positive above, negative below. Its sign is
// what [Cut] goes by; for a plane along the axes it is exact.
func (p Plane) Side(q Vec) float64 { return p.Normal.Dot(q) - p.Offset }

func (p Plane) check() error {
	if l := p.Normal.Dot(p.Normal); !(l > 0) || math.IsInf(l, 1) {
		return &ValueError{"length of the plane's normal", math.Sqrt(l), "positive and finite"}
	}
	if p.Offset-p.Offset != 0 {
		return &ValueError{"offset of the plane", p.Offset, "finite"}
	}
	return nil
}

// Frame is a right-handed set of axes on a plane: U × V = N.
type Frame struct{ Origin, U, V, N Vec }

// Frame returns axes on the plane, with the origin at its point nearest to the
// origin of space. Where the normal is along an axis the frame is exact: for +z
// it is x and y.
func (p Plane) Frame() Frame {
	n := p.Normal.Unit()
	l := p.Normal.Length()
	f := Frame{Origin: n.Scale(p.Offset / l), N: n}
	// The axis that follows the largest component is far from the normal.
	k := 0
	for i := range 3 {
		if math.Abs(n[i]) > math.Abs(n[k]) {
			k = i
		}
	}
	var along Vec
	along[(k+1)%3] = 1
	f.U = along.Sub(n.Scale(n[(k+1)%3])).Unit()
	f.V = n.Cross(f.U)
	for i := range 3 {
		f.Origin[i], f.U[i], f.V[i] = f.Origin[i]+0, f.U[i]+0, f.V[i]+0
	}
	return f
}

// Flatten returns the coordinates of a point of space in the plane.
func (f Frame) Flatten(p Vec) Point {
	d := p.Sub(f.Origin)
	return Point{d.Dot(f.U), d.Dot(f.V)}
}

// Lift returns the point of space at coordinates of the plane.
func (f Frame) Lift(p Point) Vec {
	return f.Origin.Add(f.U.Scale(p[0])).Add(f.V.Scale(p[1]))
}
