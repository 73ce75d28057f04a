package model

import "scalewright/solid"

// Frame takes a part from its own frame, the one it is shaped and printed in, to
// the build's.
//
// A stretch of the body is in the build's frame already. Turned round its own
// axis, or imported: the axis is +Z and its clocking 0 is +X. Flat: the outline
// lies in the xy plane and the thickness goes up from z = 0.
func (p Part) Frame() solid.Transform {
	switch {
	case p.OnBody():
		return solid.Identity()
	case p.Form != Flat:
		return p.Axis.Transform()
	case p.Plate.Lie == Across:
		return solid.Translation(solid.Vec{0, 0, float64(p.Span.From)}).Then(p.Axis.Transform())
	}
	// x is station, y is distance from the axis at the clocking, and half of the
	// thickness lies to either side: x, y, z become z, x, y.
	stand := solid.Transform{M: [3][3]float64{{0, 1, 0}, {0, 0, 1}, {1, 0, 0}}, T: solid.Vec{0, -float64(p.Plate.Thick) / 2, 0}}
	return stand.Then(p.Axis.Transform())
}
