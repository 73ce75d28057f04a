package photograph

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// lens is a pinhole camera with radial distortion, f and centre in pixels.
type lens struct {
	f, cx, cy float64
	k1, k2    float64
	r         [3]r3.Vec // the camera's x, y and z directions in the world
	c         r3.Vec    // centre of projection
}

// project returns the pixel of a world point in front of the camera.
func (l *lens) project(p r3.Vec) (u, v float64) {
	d := r3.Sub(p, l.c)
	x, y, z := r3.Dot(l.r[0], d), r3.Dot(l.r[1], d), r3.Dot(l.r[2], d)
	x, y = x/z, y/z
	rr := x*x + y*y
	k := 1 + rr*(l.k1+rr*l.k2)
	return l.f*x*k + l.cx, l.f*y*k + l.cy
}

// ray is the direction seen at a pixel, not of unit length. The distortion is
// taken off by bisection-guarded Newton steps on the radius, which only grows
// with distortion inside the frame (k1 and k2 are small).
func (l *lens) ray(u, v float64) r3.Vec {
	x, y := (u-l.cx)/l.f, (v-l.cy)/l.f
	rd := math.Hypot(x, y)
	r := rd
	for range 8 {
		rr := r * r
		r -= (r*(1+rr*(l.k1+rr*l.k2)) - rd) / (1 + rr*(3*l.k1+5*rr*l.k2))
	}
	if rd > 0 {
		x, y = x*r/rd, y*r/rd
	}
	return r3.Add(r3.Add(r3.Scale(x, l.r[0]), r3.Scale(y, l.r[1])), l.r[2])
}

// ground is where a pixel looks at height z, as x and y.
func (l *lens) ground(u, v, z float64) (x, y float64) {
	d := l.ray(u, v)
	t := (z - l.c.Z) / d.Z
	return l.c.X + t*d.X, l.c.Y + t*d.Y
}

// aim points a camera at the mat: roll turns the picture about the optical
// axis, tilt leans that axis off the plumb line towards azimuth.
func (l *lens) aim(roll, tilt, azimuth float64) {
	z := r3.Vec{X: math.Sin(tilt) * math.Cos(azimuth), Y: math.Sin(tilt) * math.Sin(azimuth), Z: -math.Cos(tilt)}
	x := r3.Vec{X: math.Cos(roll), Y: math.Sin(roll)}
	x = unit(r3.Sub(x, r3.Scale(r3.Dot(x, z), z)))
	l.r = [3]r3.Vec{x, r3.Cross(z, x), z}
}

// norm and unit are r3's without its care for overflow, which no length here
// needs and which costs a tenth of the time of a picture.
func norm(v r3.Vec) float64 { return math.Sqrt(r3.Norm2(v)) }

func unit(v r3.Vec) r3.Vec { return r3.Scale(1/norm(v), v) }
