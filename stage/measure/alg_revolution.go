package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// sight is what one edge point means to a camera: the ray to it and the plane
// through the camera's centre that touches the object along it.
type sight struct {
	d r3.Vec // unit ray
	n r3.Vec // unit normal of the touching plane, away from the object
}

// sights turns edge points into rays and touching planes for one camera.
func sights(cam *camera.Camera, edge []edgePoint) []sight {
	out := make([]sight, len(edge))
	for i, e := range edge {
		along := r2.Vec{X: -e.out.Y, Y: e.out.X}
		d := cam.Ray(e.at)
		// The plane holds the rays a pixel before and after along the edge; taken
		// through the lens, so that its bending is in it.
		n := r3.Unit(r3.Cross(cam.Ray(r2.Add(e.at, along)), cam.Ray(r2.Sub(e.at, along))))
		if r3.Dot(n, cam.Ray(r2.Add(e.at, e.out))) < 0 {
			n = r3.Scale(-1, n)
		}
		out[i] = sight{d, n}
	}
	return out
}

// axis is a line in the world: station 0 at p, direction u.
type axis struct{ p, u r3.Vec }

// touch is where the plane of a sight touches a body of revolution.
type touch struct {
	s, r float64 // station from axis.p and radius, mm
	e    r3.Vec  // unit direction from the axis to the place
	ok   bool
}

// contact finds the place in closed form. The touching plane of a body of
// revolution at a place holds the place's parallel tangent, so its normal less
// the part along the axis points from the axis to the place: e = n⊥/|n⊥|. The
// place X lies on the ray and in the half plane of e, that is on
// (X - P)·b = 0 with b = u × e; hence X = C + d·((P - C)·b)/(d·b), s = (X - P)·u
// and r = (X - P)·e. A rim, where planes turn about one edge, collapses to the
// one corner that it is.
func (a axis) contact(c r3.Vec, g sight) touch {
	across := r3.Sub(g.n, r3.Scale(r3.Dot(g.n, a.u), a.u))
	l := r3.Norm(across)
	if l < 1e-6 {
		return touch{}
	}
	e := r3.Scale(1/l, across)
	b := r3.Cross(a.u, e)
	db := r3.Dot(g.d, b)
	if math.Abs(db) < 1e-6 {
		return touch{}
	}
	x := r3.Add(c, r3.Scale(r3.Dot(r3.Sub(a.p, c), b)/db, g.d))
	v := r3.Sub(x, a.p)
	return touch{r3.Dot(v, a.u), r3.Dot(v, e), e, true}
}
