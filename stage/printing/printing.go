package printing

import (
	"context"
	"fmt"
	"math"

	"scalewright/craft/extrusion"
	"scalewright/craft/platform"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// Input is one piece and what prints it.
type Input struct {
	Piece   model.Piece
	Carved  model.Carved
	Part    model.Part
	Printer model.Printer
	Density float64      // of the filament, g/cm³
	Logged  unit.Minutes // how long it took when it was printed; 0: not printed yet
}

const (
	leastLines      = 2.0                // a wall needs two lines: design rules of printing services (0.8 mm at 0.4)
	steepest        = 45 * math.Pi / 180 // from the vertical, the same rules
	overhangIgnored = 30.0               // mm² of overhang that sags unseen: common practice
	nearPlatform    = 1e-6               // mm; what moving a piece to its place and back may leave
	nearWall        = 0.01               // mm; a wall this near the limit is at it
)

// Run judges the piece.
func Run(ctx context.Context, in Input) (model.Print, finding.List, error) {
	out := model.Print{Piece: in.Piece.ID, Printer: in.Printer.ID}
	var found finding.List
	if in.Carved.Solid.Empty() {
		return out, found, nil // carve has said why
	}
	out.Placement = place(in)
	placed := in.Carved.Solid.Transform(out.Placement)
	box := placed.Bounds()
	out.Box = [3]unit.Length{unit.Length(box.Size()[0]), unit.Length(box.Size()[1]), unit.Length(box.Size()[2])}
	for k, name := range []string{"x", "y", "z"} {
		if box.Min[k] < -nearPlatform || box.Max[k] > float64(in.Printer.Build[k])+nearPlatform {
			found.Add(finding.New("piece-off-platform", in.Part.At, finding.Args{
				"piece": finding.Name(in.Piece.Name), "printer": finding.Name(in.Printer.Name), "way": finding.Name(name),
				"size": finding.Long(out.Box[k]), "room": finding.Long(in.Printer.Build[k]),
			}).About(in.Part.ID).AtStation(in.Piece.Span.From))
		}
	}
	if least := unit.Length(leastLines) * in.Printer.Line; in.Carved.Wall > 0 && in.Carved.Wall < least-nearWall {
		found.Add(finding.New("wall-thin", in.Part.At.Key("wall"), finding.Args{
			"piece": finding.Name(in.Piece.Name), "wall": finding.Fine(in.Carved.Wall),
			"printer": finding.Name(in.Printer.Name), "least": finding.Fine(least),
		}).About(in.Part.ID).AtStation(unit.Length(in.Carved.WallAt.Station)))
	}
	if err := layers(ctx, in, placed, &out); err != nil {
		return out, found, fmt.Errorf("section %s: %w", in.Piece.ID, err)
	}
	out.Overhang = platform.Overhang(placed, steepest)
	if out.Overhang > overhangIgnored {
		found.Add(finding.New("overhang", in.Part.At, finding.Args{
			"piece": finding.Name(in.Piece.Name), "area": finding.Number(out.Overhang / 100),
		}).About(in.Part.ID).AtStation(in.Piece.Span.From))
	}
	if in.Logged > 0 {
		out.Minutes, out.Logged = in.Logged, true
	}
	return out, found, nil
}

// place stands the piece on the middle of the platform, on the end that divide
// chose.
func place(in Input) solid.Transform {
	if !in.Part.OnBody() || in.Piece.ID.Kind == model.Panel {
		return placeOwn(in)
	}
	reach := in.Carved.Reach
	down := solid.Identity()
	lift := -float64(reach.From)
	if in.Piece.Direction == model.NoseDown {
		down = solid.QuarterTurns(0, 2)
		lift = float64(reach.To)
	}
	down.T = solid.Vec{float64(in.Printer.Build[0]) / 2, float64(in.Printer.Build[1]) / 2, lift}
	return down
}

// layers sections the piece and adds up time and filament.
func layers(ctx context.Context, in Input, placed solid.Mesh, out *model.Print) error {
	layer := float64(in.Printer.Layer)
	height := placed.Bounds().Size()[2]
	n := max(1, int(math.Ceil(height/layer-1e-6)))
	at := make([]float64, n)
	for i := range at {
		at[i] = min((float64(i)+0.5)*layer, height-layer/1000)
	}
	head := extrusion.Head{
		Line: float64(in.Printer.Line), Layer: layer,
		Speed: in.Printer.Speed, Accel: in.Printer.Accel, Flow: in.Printer.Flow,
	}
	volume, seconds := 0.0, 0.0
	err := solid.WalkSections(placed, at, func(_ int, l solid.Layer) bool {
		v, s := head.Lay(extrusion.Layer{Area: l.Area, Perimeter: l.Perimeter}, extrusion.Usual)
		volume, seconds = volume+v, seconds+s
		return ctx.Err() == nil
	})
	if err != nil {
		return err
	}
	out.Layers = n
	out.Grams = unit.Mass(volume / 1000 * in.Density)
	out.Minutes = in.Printer.WarmUp + unit.Minutes(math.Ceil(seconds/60))
	return ctx.Err()
}
