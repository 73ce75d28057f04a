package limb

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// Pose is how a body lay before a camera. The zero value shows nothing.
type Pose struct {
	Camera  camera.Camera
	Origin  r3.Vec  // of station 0 on the axis, mm over the mat
	Along   r3.Vec  // unit, where stations rise
	Stretch float64 // mm of the body, as it is taken, for one mm as it is seen
}

// Shows reports whether there is anything to see.
func (p *Pose) Shows() bool { return p.Stretch > 0 && p.Camera.F > 0 && r3.Norm(p.Along) > 0 }

// Side is one of the two edges of a body: the left hand of somebody who looks from the
// camera along the axis as stations rise, or the right one.
type Side int

// The two sides.
const (
	Left Side = iota
	Right
)

// Place is a place of the body's surface.
type Place struct {
	Station, Radius float64 // mm of the body
	Clock           float64 // about the axis from straight up off the mat, right-handed about rising stations
}

// up is straight up off the mat, made square to the axis; where the body stands on its
// end, the mat's own X.
func (p *Pose) up() r3.Vec {
	const upright = 1e-6 // sine of the angle between axis and vertical
	up := r3.Sub(r3.Vec{Z: 1}, r3.Scale(p.Along.Z, p.Along))
	if r3.Norm(up) < upright {
		up = r3.Sub(r3.Vec{X: 1}, r3.Scale(p.Along.X, p.Along))
	}
	return r3.Unit(up)
}

// clock is how far a direction square to the axis is turned from up.
func (p *Pose) clock(e r3.Vec) float64 {
	up := p.up()
	return math.Atan2(r3.Dot(e, r3.Cross(p.Along, up)), r3.Dot(e, up))
}

// at is a place in the world.
func (p *Pose) at(q Place) r3.Vec {
	sin, cos := math.Sincos(q.Clock)
	up := p.up()
	e := r3.Add(r3.Scale(cos, up), r3.Scale(sin, r3.Cross(p.Along, up)))
	return r3.Add(p.Origin, r3.Add(r3.Scale(q.Station/p.Stretch, p.Along), r3.Scale(q.Radius/p.Stretch, e)))
}

// Pixel is where a place of the surface is seen, were nothing in the way.
func (p *Pose) Pixel(q Place) (r2.Vec, bool) { return p.Camera.Project(p.at(q)) }

// OnMat is the place of the mat that a pixel would show, were nothing on it.
func (p *Pose) OnMat(px r2.Vec) (r2.Vec, bool) {
	m, ok := p.Camera.OnPlane(px, 0)
	return r2.Vec{X: m.X, Y: m.Y}, ok
}

// OfMat is the pixel of a place of the mat.
func (p *Pose) OfMat(m r2.Vec) (r2.Vec, bool) {
	return p.Camera.Project(r3.Vec{X: m.X, Y: m.Y})
}
