package model

import (
	"math"

	"scalewright/solid"
	"scalewright/unit"
)

// Turned is the axis turned about the build's by an angle, rad.
func (a Axis) Turned(by float64) Axis {
	if a.Direction == [3]float64{} || a.Direction[0] == 0 && a.Direction[1] == 0 {
		a.Clocking += by
	}
	turn := solid.Rotation(solid.Vec{0, 0, 1}, by)
	p := turn.Apply(solid.Vec{float64(a.Position[0]), float64(a.Position[1]), float64(a.Position[2])})
	a.Position = [3]unit.Length{unit.Length(p[0]), unit.Length(p[1]), unit.Length(p[2])}
	a.Direction = [3]float64(turn.Turn(solid.Vec(a.Direction)))
	return a
}

// Transform takes a point of the part's own frame, its axis +Z and its clocking
// 0 +X, to the build's frame.
func (a Axis) Transform() solid.Transform {
	z := solid.Vec(a.Direction)
	if z == (solid.Vec{}) {
		z = solid.Vec{0, 0, 1}
	}
	x := solid.Vec{0, 0, 1}.Sub(z.Scale(z[2])) // the build's +Z made square to it
	if math.Hypot(z[0], z[1]) < alongBuild {
		x = solid.Vec{1, 0, 0}.Sub(z.Scale(z[0]))
	}
	x = solid.Rotation(z, a.Clocking).Turn(x.Unit())
	y := z.Cross(x)
	t := solid.Identity()
	for i := range 3 {
		t.M[i] = [3]float64{x[i], y[i], z[i]}
		t.T[i] = float64(a.Position[i])
	}
	return t
}

// An axis that leans less than this, as a tangent, runs along the build's.
const alongBuild = 1e-9
