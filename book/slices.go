package book

import (
	"math"

	"scalewright/job"
	"scalewright/solid"
	"scalewright/unit"
)

// acrossLine is the width of a piece that is not turned, square to the line that
// its part is divided along: of a flat one in its plane, else the larger of both.
func acrossLine(r job.Result, i int) unit.Length {
	piece := r.Division.Pieces[i]
	for n, p := range r.Design.Parts {
		if p.ID != piece.ID.Part {
			continue
		}
		back, _ := p.Frame().Inverse()
		m := r.Carved[i].Solid.Transform(back)
		d := r.Raw[n].Line.Direction
		if d[2] != 0 { // along its own axis
			size := m.Bounds().Size()
			return unit.Length(max(size[0], size[1]))
		}
		across := solid.Vec{-d[1], d[0], 0}
		low, high := math.Inf(1), math.Inf(-1)
		for _, v := range m.Vertices {
			low, high = min(low, across.Dot(v)), max(high, across.Dot(v))
		}
		return unit.Length(high - low)
	}
	return 0
}
