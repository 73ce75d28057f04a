package limb

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// steepest is the largest angle of a normal from square to the axis at which an edge is
// still looked for: past it the place lies on a face, which has no side.
const steepest = 85 * math.Pi / 180

// Edge is the pixel at which a side's edge shows a station and radius whose normal is
// turned by psi towards rising stations. Not ok where the place is not on the edge for
// any turn about the axis: a steep cone seen from before its tip.
func (p *Pose) Edge(station, radius, psi float64, side Side) (r2.Vec, bool) {
	if !p.Shows() || math.Abs(psi) > steepest {
		return r2.Vec{}, false
	}
	w := r3.Sub(r3.Add(p.Origin, r3.Scale(station/p.Stretch, p.Along)), p.Camera.C)
	along := r3.Dot(w, p.Along)
	// n·(X - C) = 0: cos ψ·(w·e + r) + sin ψ·(w·u) = 0.
	e, ok := p.turned(w, -radius/p.Stretch-math.Tan(psi)*along, side)
	if !ok {
		return r2.Vec{}, false
	}
	return p.Camera.Project(r3.Add(p.Camera.C, r3.Add(w, r3.Scale(radius/p.Stretch, e))))
}

// Corner is the station and radius of a ring that a side's edge shows at a pixel, its
// normal turned by psi. It undoes [Pose.Edge]: n·d = 0 gives the turn of e, and
// the place lies where the ray crosses the half plane of e.
func (p *Pose) Corner(px r2.Vec, psi float64, side Side) (station, radius float64, ok bool) {
	if !p.Shows() || math.Abs(psi) > steepest {
		return 0, 0, false
	}
	d := p.Camera.Ray(px)
	e, ok := p.turned(d, -math.Tan(psi)*r3.Dot(d, p.Along), side)
	if !ok {
		return 0, 0, false
	}
	b := r3.Cross(p.Along, e)
	db := r3.Dot(d, b)
	if math.Abs(db) < flat {
		return 0, 0, false
	}
	x := r3.Add(p.Camera.C, r3.Scale(r3.Dot(r3.Sub(p.Origin, p.Camera.C), b)/db, d))
	v := r3.Sub(x, p.Origin)
	return p.Stretch * r3.Dot(v, p.Along), p.Stretch * r3.Dot(v, e), true
}

// flat is the sine of the angle between a ray and the half plane of a side below which
// they do not meet in a place worth having.
const flat = 1e-6

// turned is the unit direction square to the axis, on a side, whose product with v is
// want.
func (p *Pose) turned(v r3.Vec, want float64, side Side) (r3.Vec, bool) {
	across := r3.Sub(v, r3.Scale(r3.Dot(v, p.Along), p.Along))
	l := r3.Norm(across)
	if l == 0 || math.Abs(want) > l {
		return r3.Vec{}, false
	}
	cos := want / l
	sin := math.Sqrt(1 - cos*cos)
	in := r3.Scale(1/l, across) // away from the camera
	left := r3.Cross(p.Along, in)
	if side == Right {
		sin = -sin
	}
	return r3.Add(r3.Scale(cos, in), r3.Scale(sin, left)), true
}
