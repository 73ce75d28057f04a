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

// Run carves the piece and leaves it in its place in the build.
func Run(ctx context.Context, in Input) (model.Carved, finding.List, error) {
	out, found, err := made(ctx, in)
	if err != nil || found.Blocked() {
		return out, found, err
	}
	if out.Solid, found, err = featured(ctx, in, out.Solid); err != nil || found.Blocked() {
		return out, found, err
	}
	out.Volume = out.Solid.Volume()
	return out, found, nil
}

// made is the piece as its own form and the joints on its own line make it.
func made(ctx context.Context, in Input) (model.Carved, finding.List, error) {
	if in.Piece.ID.Kind == model.Slice {
		return slice(ctx, in)
	}
	return turned(in)
}

// turned is a piece that is turned in the half plane, on its own axis.
func turned(in Input) (model.Carved, finding.List, error) {
	var region, leads turning.Region
	switch in.Piece.ID.Kind {
	case model.Shell:
		region, leads = shell(in)
	case model.CollarRing:
		region, leads = collar(in)
	case model.CoreRing:
		region = ring(in)
	case model.Bush:
		region = bushed(in)
	case model.Panel:
		region = sheet(in)
	}
	out := model.Carved{Piece: in.Piece.ID}
	// A lead-in thins an edge on purpose, so walls are measured without it.
	thin := region.LeastWall()
	out.Wall, out.WallAt = unit.Length(thin.Thickness), thin.At
	region = region.Minus(leads)
	out.Loops = region.Loops()
	if n := bodies(out.Loops); n != 1 {
		return out, finding.List{finding.New("not-one-piece", in.Part.At, finding.Args{
			"piece": finding.Name(in.Piece.Name), "count": finding.Count(n),
		}).About(in.Part.ID).AtStation(in.Piece.Span.From)}, nil
	}
	z0, z1, radius := region.Bounds()
	out.Reach, out.Diameter = model.Span{From: unit.Length(z0), To: unit.Length(z1)}, unit.Length(2*radius)
	mesh, err := solid.TurnLoops(points(out.Loops), in.Segments)
	if err != nil {
		return out, nil, fmt.Errorf("carve %s: %w", in.Piece.ID, err)
	}
	if !in.Part.OnBody() {
		mesh = mesh.Transform(in.Part.Frame())
	}
	out.Solid = mesh
	return out, nil, nil
}

// bodies counts the outer loops: holes run clockwise.
func bodies(loops [][]model.Point) int {
	n := 0
	for _, loop := range loops {
		twice := 0.0
		for i, p := range loop {
			q := loop[(i+1)%len(loop)]
			twice += p.Radius*q.Station - q.Radius*p.Station
		}
		if twice > 0 {
			n++
		}
	}
	return n
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
