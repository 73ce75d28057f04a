package carve

import (
	"context"
	"fmt"

	"scalewright/craft/turning"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// Run carves the piece.
func Run(_ context.Context, in Input) (model.Carved, finding.List, error) {
	var region turning.Region
	switch in.Piece.ID.Kind {
	case model.Shell:
		region = shell(in)
	case model.CollarRing:
		region = collar(in)
	case model.CoreRing:
		region = ring(in)
	}
	out := model.Carved{Piece: in.Piece.ID, Loops: region.Loops()}
	if region.Empty() {
		return out, nil, fmt.Errorf("carve %s: nothing is left of it", in.Piece.ID)
	}
	z0, z1, radius := region.Bounds()
	out.Reach, out.Diameter = model.Span{From: unit.Length(z0), To: unit.Length(z1)}, unit.Length(2*radius)
	thin := region.LeastWall()
	out.Wall, out.WallAt = unit.Length(thin.Thickness), thin.At
	mesh, err := solid.TurnLoops(points(out.Loops), in.Segments)
	if err != nil {
		return out, nil, fmt.Errorf("carve %s: %w", in.Piece.ID, err)
	}
	out.Solid, out.Volume = mesh, mesh.Volume()
	return out, nil, nil
}

// Flats keep their chords within this of the circle, mm.
const flatSag = 0.02

// Segments is how many flats a circle of the build gets: as many as its widest
// place needs, in whole quarters, so that all circles share them.
func Segments(widest unit.Length) int {
	n, err := solid.SegmentsFor(float64(widest)/2, flatSag)
	if err != nil {
		panic("carve: internal error: " + err.Error())
	}
	return (n + 3) / 4 * 4
}

func points(loops [][]model.Point) [][]solid.PointRZ {
	out := make([][]solid.PointRZ, len(loops))
	for i, loop := range loops {
		for _, p := range loop {
			out[i] = append(out[i], solid.PointRZ{R: p.Radius, Z: p.Station})
		}
	}
	return out
}
