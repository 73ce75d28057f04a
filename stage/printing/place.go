package printing

import (
	"scalewright/craft/platform"
	"scalewright/model"
	"scalewright/solid"
)

// placeOwn stands a piece that has a line of its own on the middle of the
// platform: turned back into the frame it was shaped in, then over where its nose
// is down, then about the vertical until it fits.
func placeOwn(in Input) solid.Transform {
	back, ok := in.Part.Frame().Inverse()
	if !ok {
		panic("printing: internal error: the frame of " + in.Part.ID + " cannot be undone")
	}
	back.T = solid.Vec{}
	if in.Piece.Direction == model.NoseDown {
		back = back.Then(solid.QuarterTurns(0, 2))
	}
	if in.Piece.ID.Kind == model.Slice {
		back = back.Then(solid.Rotation(solid.Vec{0, 0, 1}, turn(in, back)))
	}
	// Moved last and by what the turned corners say, so that none comes out a
	// rounding below the platform.
	box := in.Carved.Solid.Transform(back).Bounds()
	back.T = solid.Vec{
		float64(in.Printer.Build[0])/2 - (box.Min[0]+box.Max[0])/2,
		float64(in.Printer.Build[1])/2 - (box.Min[1]+box.Max[1])/2,
		-box.Min[2],
	}
	return back
}

// turn is the angle at which a piece lies within the platform's margins.
func turn(in Input, standing solid.Transform) float64 {
	var seen []solid.Point
	for _, p := range in.Carved.Solid.Transform(standing).Vertices {
		seen = append(seen, solid.Point{p[0], p[1]})
	}
	angle, _ := platform.Turn(platform.Hull(seen), float64(in.Printer.Build[0]-2*in.Printer.Margin), float64(in.Printer.Build[1]-2*in.Printer.Margin))
	return angle
}
