package printing_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/stage/printing"
	"scalewright/unit"
)

const flats = 96

// turned is a piece of a profile given as radius and station, with its wall.
func turned(t testing.TB, wall unit.Length, rz ...float64) printing.Input {
	t.Helper()
	var profile []solid.PointRZ
	var reach model.Span
	for i := 0; i < len(rz); i += 2 {
		profile = append(profile, solid.PointRZ{R: rz[i], Z: rz[i+1]})
		reach.From, reach.To = min(reach.From, unit.Length(rz[i+1])), max(reach.To, unit.Length(rz[i+1]))
	}
	reach.From = unit.Length(rz[1])
	mesh, err := solid.Turn(profile, flats)
	if err != nil {
		t.Fatal(err)
	}
	return printing.Input{
		Piece:   model.Piece{ID: model.PieceID{Kind: model.Shell, Part: "a", From: "foot", To: "nose"}, Name: "a", Direction: model.FootDown},
		Carved:  model.Carved{Solid: mesh, Wall: wall, Reach: reach, WallAt: model.Point{Station: 7}},
		Part:    model.Part{ID: "a", At: finding.Place{File: "build.yaml", Path: "parts.a"}},
		Printer: model.Printer{ID: "heron", Name: "Heron", Build: [3]unit.Length{300, 300, 400}, Line: 0.6, Layer: 0.3, Speed: 80, Accel: 1500, Flow: 15, WarmUp: 8},
		Density: 1.24,
	}
}

func tube(t testing.TB, wall float64) printing.Input {
	return turned(t, unit.Length(wall), 50-wall, 100, 50, 100, 50, 160, 50-wall, 160)
}

func mustPrint(t testing.TB, in printing.Input) (model.Print, finding.List) {
	t.Helper()
	out, found, err := printing.Run(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	return out, found
}

func ExampleRun() {
	out, found := mustPrint(&testing.B{}, tube(&testing.B{}, 2.4))
	fmt.Printf("%.0f layers, %.0f g, %v high, overhang %v, %v\n", float64(out.Layers), float64(out.Grams), out.Box[2], out.Overhang, found)
	// Output: 200 layers, 55 g, 60 high, overhang 0, []
}

// A wall of four lines is laid whole, so its mass is volume times density (the
// polygon's area, n/2·sin(2π/n)·r²); and nothing prints faster than the hot end
// melts.
func TestTubeByHand(t *testing.T) {
	out, found := mustPrint(t, tube(t, 2.4))
	area := flats / 2 * math.Sin(2*math.Pi/flats) * (50*50 - 47.6*47.6)
	if want := area * 60 / 1000 * 1.24; math.Abs(float64(out.Grams)-want) > 1e-6*want {
		t.Errorf("%v g, want %v", out.Grams, want)
	}
	seconds := float64(out.Minutes-8) * 60
	// 0.3 x 0.6 lines at 80 mm/s lay 14.4 mm³/s, less than the 15 that melt.
	if floor := area * 60 / 14.4; seconds < floor || seconds > 2*floor+200*8+60 {
		t.Errorf("%v s, want %v at least", seconds, floor)
	}
	if len(found) != 0 || out.Layers != 200 || out.Logged {
		t.Errorf("%+v, %v", out, found)
	}
}

func TestLoggedMinutesWin(t *testing.T) {
	in := tube(t, 2.4)
	in.Logged = 321
	if out, _ := mustPrint(t, in); out.Minutes != 321 || !out.Logged || out.Grams == 0 {
		t.Errorf("%+v", out)
	}
}

// Two lines make a wall; a hair less does not.
func TestThinWalls(t *testing.T) {
	for _, c := range []struct {
		wall unit.Length
		want int
	}{{2.4, 0}, {1.2, 0}, {1.195, 0}, {1.1, 1}} {
		_, found := mustPrint(t, tube(t, float64(c.wall)))
		if len(found) != c.want {
			t.Errorf("wall %v: found %v", c.wall, found)
		}
		if c.want > 0 && (found[0].Code != "wall-thin" || found[0].Severity != finding.Blocker || found[0].At.Path != "parts.a.wall" || found[0].Station != 7) {
			t.Errorf("wall %v: found %+v", c.wall, found[0])
		}
	}
}

// A step outwards hangs over when it is printed foot down: the ring between its
// radii, of polygons; nose down it faces up. A
// cone of 45° does not hang, one of 50° does.
func TestOverhangByHand(t *testing.T) {
	polygon := func(r float64) float64 { return flats / 2 * math.Sin(2*math.Pi/flats) * r * r }
	step := turned(t, 5, 20, 0, 40, 0, 40, 30, 60, 30, 60, 50, 20, 50)
	out, found := mustPrint(t, step)
	want := polygon(60) - polygon(40)
	if math.Abs(out.Overhang-want) > 1e-6*want || len(found) != 1 || found[0].Code != "overhang" || found[0].Severity != finding.Note {
		t.Errorf("step foot down: overhang %v, want %v; found %v", out.Overhang, want, found)
	}
	step.Piece.Direction = model.NoseDown
	if out, found = mustPrint(t, step); out.Overhang != 0 || len(found) != 0 {
		t.Errorf("step nose down: overhang %v, found %v", out.Overhang, found)
	}
	cone := func(run float64) printing.Input { return turned(t, 5, 20, 0, 40, 0, 40+run, 20, 20, 20) }
	if out, _ = mustPrint(t, cone(20/math.Cos(math.Pi/flats))); out.Overhang != 0 {
		t.Errorf("45°: overhang %v", out.Overhang)
	}
	if out, _ = mustPrint(t, cone(20*math.Tan(50*math.Pi/180))); out.Overhang == 0 {
		t.Error("50° from the vertical does not hang over")
	}
}

// Foot down the foot is on the platform, nose down the nose; both in its middle.
func TestPlacement(t *testing.T) {
	for _, d := range []model.Direction{model.FootDown, model.NoseDown} {
		in := turned(t, 5, 20, 100, 40, 100, 25, 150, 20, 150)
		in.Piece.Direction = d
		out, found := mustPrint(t, in)
		box := in.Carved.Solid.Transform(out.Placement).Bounds()
		if box.Min[2] != 0 || box.Max[2] != 50 || len(found) != 0 {
			t.Errorf("%s: stands at %v to %v, found %v", d, box.Min[2], box.Max[2], found)
		}
		if mid := (box.Min[0] + box.Max[0]) / 2; math.Abs(mid-150) > 1e-9 {
			t.Errorf("%s: its middle lies at %v", d, mid)
		}
		wide := map[model.Direction]float64{model.FootDown: 40, model.NoseDown: 25}[d]
		for _, v := range in.Carved.Solid.Transform(out.Placement).Vertices {
			if r := math.Hypot(v[0]-150, v[1]-150); v[2] == 0 && r > wide+1e-9 {
				t.Errorf("%s: on the platform stands a radius of %v, want %v at most", d, r, wide)
			}
		}
	}
}

func TestOffThePlatform(t *testing.T) {
	in := tube(t, 2.4)
	in.Printer.Build = [3]unit.Length{99, 300, 59}
	_, found := mustPrint(t, in)
	if len(found) != 2 || found[0].Code != "piece-off-platform" || found[0].Args["way"] != finding.Name("x") || found[1].Args["way"] != finding.Name("z") {
		t.Errorf("found %+v", found)
	}
	in.Printer.Build = [3]unit.Length{100, 100, 60} // just so
	if _, found = mustPrint(t, in); len(found) != 0 {
		t.Errorf("found %+v", found)
	}
}

func TestNothingToPrint(t *testing.T) {
	in := tube(t, 2.4)
	in.Carved.Solid = solid.Mesh{}
	if out, found := mustPrint(t, in); out.Layers != 0 || len(found) != 0 {
		t.Errorf("%+v, %v", out, found)
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, _, err := printing.Run(ctx, tube(t, 2.4)); err == nil {
		t.Error("no error when cancelled")
	}
}
