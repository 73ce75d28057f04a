package finishing_test

import (
	"fmt"
	"math"
	"testing"

	"scalewright/model"
	"scalewright/solid"
	"scalewright/stage/finishing"
	"scalewright/unit"
)

const flats = 360

// cup is a tube of radii 47 and 50 from 0 to 200, closed at both ends by flat lids
// 3 thick: one solid with a sealed cavity would hide its inside.
func cup(t testing.TB) finishing.Input {
	t.Helper()
	m, err := solid.Turn([]solid.PointRZ{{R: 0, Z: 0}, {R: 50, Z: 0}, {R: 50, Z: 200}, {R: 0, Z: 200}}, flats)
	if err != nil {
		t.Fatal(err)
	}
	return build(m)
}

func build(m solid.Mesh) finishing.Input {
	id := model.PieceID{Kind: model.Shell, Part: "cup", From: model.Foot, To: model.Nose}
	return finishing.Input{
		Parts:    []model.Part{{ID: "cup", Finished: true}},
		Division: model.Division{Pieces: []model.Piece{{ID: id, Name: "cup", Printer: "wren"}}},
		Carved:   []model.Carved{{Piece: id, Solid: m, Diameter: 100}},
		Prints:   []model.Print{{Piece: id, Placement: solid.Identity()}},
		Printers: []model.Printer{{ID: "wren", Layer: 0.2}},
		Finish:   model.Finish{Grade: model.ArmGrade, Colour: 2, Clear: 1},
	}
}

func run(t testing.TB, in finishing.Input) model.Finishing {
	t.Helper()
	f, found, err := finish(in)
	if err != nil || len(found) > 0 {
		t.Fatalf("Run: %v, %v", found, err)
	}
	return f
}

func ExampleRun() {
	f := run(&testing.B{}, cup(&testing.B{}))
	fmt.Printf("%.3f m², %d cycles, %d tasks\n", f.Surfaces[0].Area/1e6, f.Cycles, len(f.Tasks))
	for _, n := range f.Needs {
		fmt.Printf("%d × %s, %.2f m²\n", n.Units, n.Coating, n.Area)
	}
	// Output:
	// 0.079 m², 1 cycles, 7 tasks
	// 1 × putty, 0.08 m²
	// 1 × primer, 0.08 m²
	// 1 × colour, 0.16 m²
	// 1 × clear, 0.08 m²
	// 1 × paper, 0.08 m²
	// 1 × paper, 0.08 m²
	// 1 × paper, 0.08 m²
	// 1 × paper, 0.08 m²
}

// The seen area is the closed forms': cylinder 2πrh + 2πr², cone πr√(r² + h²) + πr²,
// sphere 4πr², and of a tube its outside and what is seen of its inside through the ends is none along
// normals that point at the other side.
func TestSeenArea(t *testing.T) {
	sphere, err := solid.Sphere(solid.Vec{}, 40, 60)
	if err != nil {
		t.Fatal(err)
	}
	cone, err := solid.Turn([]solid.PointRZ{{R: 0, Z: 0}, {R: 60, Z: 0}, {R: 0, Z: 150}}, flats)
	if err != nil {
		t.Fatal(err)
	}
	tube, err := solid.Tube(solid.TubeSize{Outer: 50, Bore: 47, Low: 0, High: 200, Segments: flats})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		in   finishing.Input
		want float64
	}{
		{"cylinder", cup(t), 2*math.Pi*50*200 + 2*math.Pi*50*50},
		{"cone", build(cone), math.Pi*60*math.Hypot(60, 150) + math.Pi*60*60},
		{"sphere", build(sphere), 4 * math.Pi * 40 * 40},
		{"tube", build(tube), 2*math.Pi*50*200 + 2*math.Pi*(50*50-47*47)},
	} {
		if got := run(t, c.in).Surfaces[0].Area; math.Abs(got-c.want) > 2e-3*c.want {
			t.Errorf("%s: %v mm² are seen, want %v", c.name, got, c.want)
		}
	}
}

// Faces that lie on another piece are not seen.
func TestJointFacesAreNotSeen(t *testing.T) {
	in := cup(t)
	upper := in.Division.Pieces[0]
	upper.ID.From = "c"
	in.Division.Pieces = append(in.Division.Pieces, upper)
	in.Carved = append(in.Carved, model.Carved{Solid: in.Carved[0].Solid.Translate(solid.Vec{0, 0, 200}), Diameter: 100})
	in.Prints = append(in.Prints, in.Prints[0])
	sum := 0.0
	for _, s := range run(t, in).Surfaces {
		sum += s.Area
	}
	if want := 2*math.Pi*50*400 + 2*math.Pi*50*50; math.Abs(sum-want) > 2e-3*want {
		t.Errorf("%v mm² are seen of two on one another, want %v", sum, want)
	}
}

// A cone of 45° is as rough as its stair and the floor say: √(0.1414² + 0.045²).
func TestDepthOfACone(t *testing.T) {
	cone, err := solid.Turn([]solid.PointRZ{{R: 0, Z: 0}, {R: 100, Z: 0}, {R: 0, Z: 100}}, flats)
	if err != nil {
		t.Fatal(err)
	}
	f := run(t, build(cone))
	if got, want := float64(f.Surfaces[0].Depth), math.Hypot(0.1414, 0.045); math.Abs(got-want) > 1e-3 {
		t.Errorf("depth %v, want %v", got, want)
	}
	if f.Cycles != 3 { // 0.148 · 0.55³ = 0.0247
		t.Errorf("%d cycles, want 3", f.Cycles)
	}
}

// Hands are on it no shorter than the rates give: raw, between coats, and last.
func TestHoursAreNoSmallerThanTheRates(t *testing.T) {
	f := run(t, cup(t))
	area := f.Surfaces[0].Area / 1e6
	least := 60 * (area/0.08 + float64(f.Cycles)*area/0.3 + area/1.0)
	if float64(f.Bench) < least {
		t.Errorf("%v minutes, the rates give at least %v", f.Bench, least)
	}
	sum := unit.Minutes(0)
	for _, task := range f.Tasks {
		sum += task.Bench
	}
	if sum != f.Bench {
		t.Errorf("bench %v, its tasks %v", f.Bench, sum)
	}
}

// What the log says of sanding scales what is still to be sanded.
func TestLogScalesSanding(t *testing.T) {
	in := cup(t)
	first := run(t, in)
	in.Took = map[string]unit.Minutes{first.Tasks[0].ID: 2 * first.Tasks[0].Bench}
	then := run(t, in)
	if then.Rate != 2 || then.Tasks[0].Bench < 2*first.Tasks[0].Bench-1 {
		t.Errorf("rate %v, first task %v after %v", then.Rate, then.Tasks[0].Bench, first.Tasks[0].Bench)
	}
}

// Each task waits for one that is there, but for what other stages make, and the
// last is the group's finish.
func TestChain(t *testing.T) {
	f := run(t, cup(t))
	seen := map[string]bool{"print.cup.foot.nose": true}
	for _, task := range f.Tasks {
		for _, after := range task.After {
			if !seen[after] {
				t.Errorf("%s waits for %s, which is not before it", task.ID, after)
			}
		}
		seen[task.ID] = true
	}
	if last := f.Tasks[len(f.Tasks)-1].ID; last != model.FinishTask("cup") {
		t.Errorf("the last task is %s", last)
	}
}

func TestLeftAsPrinted(t *testing.T) {
	in := cup(t)
	in.Finish = model.Finish{Grade: model.Unfinished}
	if f := run(t, in); len(f.Tasks)+len(f.Needs) > 0 {
		t.Errorf("as printed, and still %+v", f)
	}
	in = cup(t)
	in.Parts[0].Finished = false
	if f := run(t, in); len(f.Tasks) > 0 {
		t.Errorf("an unfinished part has tasks %v", f.Tasks)
	}
	if f := run(t, finishing.Input{Finish: model.Finish{Grade: model.ArmGrade}}); len(f.Tasks) > 0 {
		t.Errorf("nothing has tasks %v", f.Tasks)
	}
}
