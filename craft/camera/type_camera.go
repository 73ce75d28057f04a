package camera

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Camera projects points of the world to pixels. The zero value has no focal
// length and projects nothing.
type Camera struct {
	F, Cx, Cy float64       // focal length and principal point, pixels
	K1, K2    float64       // radial distortion
	R         [3][3]float64 // rows: the camera's x, y and z directions in the world
	C         r3.Vec        // centre of projection in the world, mm
}

// toCamera turns a world point into the camera's own directions.
func (c *Camera) toCamera(p r3.Vec) r3.Vec { return c.Turned(r3.Sub(p, c.C)) }

// Turned is a direction of the world along the camera's x, y and z.
func (c *Camera) Turned(d r3.Vec) r3.Vec {
	return r3.Vec{
		X: c.R[0][0]*d.X + c.R[0][1]*d.Y + c.R[0][2]*d.Z,
		Y: c.R[1][0]*d.X + c.R[1][1]*d.Y + c.R[1][2]*d.Z,
		Z: c.R[2][0]*d.X + c.R[2][1]*d.Y + c.R[2][2]*d.Z,
	}
}

// toWorld turns a direction of the camera into one of the world.
func (c *Camera) toWorld(d r3.Vec) r3.Vec {
	return r3.Vec{
		X: c.R[0][0]*d.X + c.R[1][0]*d.Y + c.R[2][0]*d.Z,
		Y: c.R[0][1]*d.X + c.R[1][1]*d.Y + c.R[2][1]*d.Z,
		Z: c.R[0][2]*d.X + c.R[1][2]*d.Y + c.R[2][2]*d.Z,
	}
}

// Project returns the pixel of a world point; ok is false behind the camera.
func (c *Camera) Project(p r3.Vec) (px r2.Vec, ok bool) {
	q := c.toCamera(p)
	if q.Z <= 0 {
		return r2.Vec{}, false
	}
	return c.Distort(r2.Vec{X: q.X / q.Z, Y: q.Y / q.Z}), true
}

// Distort takes an ideal point of the plane at unit depth to its pixel.
func (c *Camera) Distort(n r2.Vec) r2.Vec {
	rr := n.X*n.X + n.Y*n.Y
	k := 1 + rr*(c.K1+rr*c.K2)
	return r2.Vec{X: c.F*n.X*k + c.Cx, Y: c.F*n.Y*k + c.Cy}
}

// Undistort is the inverse of [Camera.Distort]. The radial equation is solved
// by Newton's method; beyond the radius where the distortion folds back there
// is no inverse, and the result is held at the fold.
func (c *Camera) Undistort(px r2.Vec) r2.Vec {
	x, y := (px.X-c.Cx)/c.F, (px.Y-c.Cy)/c.F
	rd := math.Hypot(x, y)
	if rd == 0 {
		return r2.Vec{}
	}
	r := rd
	for range 20 {
		rr := r * r
		g := r*(1+rr*(c.K1+rr*c.K2)) - rd
		slope := 1 + rr*(3*c.K1+5*rr*c.K2)
		if slope < 0.1 { // near the fold: keep the last good radius
			break
		}
		step := g / slope
		r -= step
		if math.Abs(step) < 1e-14*rd {
			break
		}
	}
	return r2.Vec{X: x * r / rd, Y: y * r / rd}
}

// Ray returns the unit direction, in the world, seen at a pixel.
func (c *Camera) Ray(px r2.Vec) r3.Vec {
	n := c.Undistort(px)
	return r3.Unit(c.toWorld(r3.Vec{X: n.X, Y: n.Y, Z: 1}))
}

// OnPlane returns the point at height z (mm) above the mat seen at a pixel; ok
// is false where the ray does not come down to it.
func (c *Camera) OnPlane(px r2.Vec, z float64) (p r3.Vec, ok bool) {
	d := c.Ray(px)
	if d.Z == 0 {
		return r3.Vec{}, false
	}
	t := (z - c.C.Z) / d.Z
	if t <= 0 {
		return r3.Vec{}, false
	}
	return r3.Add(c.C, r3.Scale(t, d)), true
}

// Height is the height of the centre of projection above the mat, mm.
func (c *Camera) Height() float64 { return c.C.Z }

// Tilt is the angle between the optical axis and the plumb line, radians.
func (c *Camera) Tilt() float64 {
	return math.Acos(min(1, max(-1, -c.R[2][2])))
}

// turn applies a small rotation w (radians about the camera's own axes).
func (c *Camera) turn(w r3.Vec) {
	t := r3.Norm(w)
	if t == 0 {
		return
	}
	rot := r3.NewRotation(t, w)
	for j := range 3 {
		col := rot.Rotate(r3.Vec{X: c.R[0][j], Y: c.R[1][j], Z: c.R[2][j]})
		c.R[0][j], c.R[1][j], c.R[2][j] = col.X, col.Y, col.Z
	}
}

// Params is the number of free parameters of a [Camera].
const Params = 11

// Nudge returns the camera moved by d in parameter space. The order, which is
// that of every covariance here: F, Cx, Cy, K1, K2, then three small turns about
// the camera's own x, y and z (radians), then the centre's X, Y and Z.
func (c Camera) Nudge(d [Params]float64) Camera {
	c.F += d[0]
	c.Cx += d[1]
	c.Cy += d[2]
	c.K1 += d[3]
	c.K2 += d[4]
	c.turn(r3.Vec{X: d[5], Y: d[6], Z: d[7]})
	c.C = r3.Add(c.C, r3.Vec{X: d[8], Y: d[9], Z: d[10]})
	return c
}
