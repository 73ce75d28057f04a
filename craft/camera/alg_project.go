package camera

import "gonum.org/v1/gonum/spatial/r3"

// lensParams of the camera's parameters belong to the lens, the others to where
// it stands.
const lensParams = 5

// slopes of the pixel by all that moves it.
type slopes struct {
	lens  [lensParams]pair // F, Cx, Cy, K1, K2
	turn  [3]pair          // about the camera's own axes
	place [3]pair          // the point's X, Y, Z in the world; the centre's are the opposite
}

// pair is a change of u and of v.
type pair [2]float64

// project is [Camera.Project] with its derivatives, by the chain rule through
// p = R(X - C), n = p/p.z and u = F n (1 + k1 r² + k2 r⁴) + c. A small turn w
// moves p by w × p.
func (c *Camera) project(at r3.Vec, d *slopes) (px pair, ok bool) {
	q := c.toCamera(at)
	if q.Z <= 0 {
		return px, false
	}
	x, y := q.X/q.Z, q.Y/q.Z
	rr := x*x + y*y
	k := 1 + rr*(c.K1+rr*c.K2)
	bend := 2 * (c.K1 + 2*rr*c.K2) // dk = bend·(x dx + y dy)
	d.lens = [lensParams]pair{
		{x * k, y * k},
		{1, 0},
		{0, 1},
		{c.F * x * rr, c.F * y * rr},
		{c.F * x * rr * rr, c.F * y * rr * rr},
	}
	ux, uy, vy := c.F*(k+bend*x*x), c.F*bend*x*y, c.F*(k+bend*y*y)
	by := func(q0 r3.Vec) pair { // the pixel's change when p moves by q0
		dx, dy := (q0.X-x*q0.Z)/q.Z, (q0.Y-y*q0.Z)/q.Z
		return pair{ux*dx + uy*dy, uy*dx + vy*dy}
	}
	d.turn = [3]pair{
		by(r3.Vec{Y: -q.Z, Z: q.Y}), by(r3.Vec{X: q.Z, Z: -q.X}), by(r3.Vec{X: -q.Y, Y: q.X}),
	}
	for j := range 3 {
		d.place[j] = by(r3.Vec{X: c.R[0][j], Y: c.R[1][j], Z: c.R[2][j]})
	}
	return pair{c.F*x*k + c.Cx, c.F*y*k + c.Cy}, true
}
