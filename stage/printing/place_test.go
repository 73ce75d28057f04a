package printing_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/model"
	"scalewright/solid"
	"scalewright/stage/printing"
	"scalewright/unit"
)

// own is a piece with a line of its own, in its place in the build.
func own(t testing.TB, part model.Part, kind model.PieceKind, down model.Direction, m solid.Mesh) printing.Input {
	t.Helper()
	in := tube(t, 3)
	part.ID, part.Own = "a", true
	in.Part = part
	in.Piece.ID.Kind, in.Piece.Own, in.Piece.Direction = kind, true, down
	in.Carved = model.Carved{Solid: m.Transform(part.Frame())}
	in.Printer.Margin = 5
	return in
}

// A fin of 324 by 168 mm does not lie on 290 by 290 as it was drawn.
func TestFinLiesAtAnAngle(t *testing.T) {
	fin := []solid.Point{{0, 0}, {324, 72}, {204, 168}, {40, 168}}
	m, err := solid.Prism(solid.Region{Outer: fin}, 0, 14.4)
	if err != nil {
		t.Fatal(err)
	}
	for name, lie := range map[string]model.Lie{"along": model.Along, "across": model.Across} {
		in := own(t, model.Part{
			Form: model.Flat, Plate: model.Plate{Lie: lie, Thick: 14.4},
			Axis: model.Axis{Clocking: math.Pi / 4},
		}, model.Slice, model.Lying, m)
		out, found := mustPrint(t, in)
		if len(found) > 0 || math.Abs(float64(out.Box[2])-14.4) > 1e-9 || out.Box[0] > 290 || out.Box[1] > 290 {
			t.Errorf("%s: box %v, found %v", name, out.Box, found)
		}
		if out.Overhang != 0 {
			t.Errorf("%s: a plate hangs over on %v mm²", name, out.Overhang)
		}
		in.Printer.Build = [3]unit.Length{200, 200, 400}
		if _, found = mustPrint(t, in); len(found) != 2 || found[0].Code != "piece-off-platform" {
			t.Errorf("%s: on 190 by 190: found %v, want it off in x and y", name, found)
		}
	}
}

// Wherever a piece lies in the build, it prints the same: on the platform, in the
// middle, as high as it is along its own axis, and no corner below z = 0.
func TestPlacementUndoesThePlace(t *testing.T) {
	knob, err := solid.Turn([]solid.PointRZ{{R: 0, Z: 20}, {R: 30, Z: 20}, {R: 10, Z: 110}, {R: 0, Z: 110}}, flats)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(rt *rapid.T) {
		number := rapid.Float64Range(-1, 1)
		d := solid.Vec{number.Draw(rt, "x"), number.Draw(rt, "y"), number.Draw(rt, "z")}
		if d.Length() < 0.1 {
			return
		}
		axis := model.Axis{Direction: [3]float64(d.Unit()), Clocking: 3 * number.Draw(rt, "clocking")}
		for k := range axis.Position {
			axis.Position[k] = unit.Length(500 * number.Draw(rt, "at"))
		}
		down := rapid.SampledFrom([]model.Direction{model.FootDown, model.NoseDown}).Draw(rt, "down")
		in := own(t, model.Part{Axis: axis}, model.Shell, down, knob)
		out, found := mustPrint(t, in)
		box := in.Carved.Solid.Transform(out.Placement).Bounds()
		if box.Min[2] != 0 || math.Abs(box.Max[2]-90) > 1e-9 {
			rt.Fatalf("it stands from %v to %v", box.Min[2], box.Max[2])
		}
		for k := range 2 {
			if middle := (box.Min[k] + box.Max[k]) / 2; math.Abs(middle-150) > 1e-9 {
				rt.Fatalf("its middle lies at %v in way %d", middle, k)
			}
		}
		// On its nose it leans out by 30 - 10 over 90: under 45°.
		if len(found) > 0 || out.Overhang != 0 {
			rt.Fatalf("found %v", found)
		}
	})
}
