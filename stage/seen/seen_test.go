package seen_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"testing"

	"github.com/google/go-cmp/cmp"

	"scalewright/model"
	"scalewright/solid"
	"scalewright/stage/seen"
	"scalewright/unit"
)

func piece(part string) model.Piece {
	return model.Piece{ID: model.PieceID{Kind: model.Shell, Part: part, From: model.Foot, To: model.Nose}, Printer: "wren"}
}

// rods are round rods of a radius of 50 mm, 200 mm long, side by side so far apart.
func rods(t testing.TB, apart ...float64) seen.Input {
	t.Helper()
	rod, err := solid.Turn([]solid.PointRZ{{R: 0, Z: 0}, {R: 50, Z: 0}, {R: 50, Z: 200}, {R: 0, Z: 200}}, 360)
	if err != nil {
		t.Fatal(err)
	}
	in := seen.Input{Layers: map[string]unit.Length{"wren": 0.2}}
	for i, x := range apart {
		name := fmt.Sprintf("rod%d", i)
		place := solid.Identity()
		place.T[0] = x
		in.Finished = append(in.Finished, name)
		in.Division.Pieces = append(in.Division.Pieces, piece(name))
		in.Carved = append(in.Carved, model.Carved{Solid: rod.Transform(place)})
		in.Prints = append(in.Prints, model.Print{Placement: solid.Identity()})
	}
	return in
}

func ExampleRun() {
	found, _, err := seen.Run(context.Background(), rods(&testing.B{}, 0))
	fmt.Printf("%.3f m² seen, %.3f mm deep at most, %v\n", found[0].Area/1e6, float64(found[0].Depth), err)
	// Output:
	// 0.079 m² seen, 0.045 mm deep at most, <nil>
}

// A rod alone shows all of its surface: 2πrh + 2πr² (closed form). Beside another it
// shows less, and what is not finished shows nothing.
func TestWhatIsSeen(t *testing.T) {
	whole := 2*math.Pi*50*200 + 2*math.Pi*50*50
	alone, _, err := seen.Run(t.Context(), rods(t, 0))
	if err != nil || len(alone) != 1 || math.Abs(alone[0].Area/whole-1) > 1e-3 {
		t.Fatalf("alone: %+v, %v, want %.0f mm²", alone, err, whole)
	}
	pair, _, err := seen.Run(t.Context(), rods(t, 0, 101))
	if err != nil || len(pair) != 2 || pair[0].Area >= alone[0].Area || math.Abs(pair[0].Area/pair[1].Area-1) > 0.01 {
		t.Errorf("two side by side: %+v, %v", pair, err)
	}
	raw := rods(t, 0, 300)
	raw.Finished = raw.Finished[:1]
	if got, _, err := seen.Run(t.Context(), raw); err != nil || len(got) != 1 {
		t.Errorf("one left as printed: %+v, %v", got, err)
	}
	if got, _, err := seen.Run(t.Context(), seen.Input{}); err != nil || len(got) != 0 {
		t.Errorf("nothing: %+v, %v", got, err)
	}
}

func TestSameOnAnyNumberOfCores(t *testing.T) {
	in := rods(t, 0, 101, 202, 350)
	want, _, err := seen.Run(t.Context(), in)
	if err != nil {
		t.Fatal(err)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	got, _, err := seen.Run(t.Context(), in)
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("on one core, %v (-many +one):\n%s", err, diff)
	}
}

func TestStops(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, _, err := seen.Run(ctx, rods(t, 0)); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

// A fault of ours in one goroutine reaches who asked, and can be caught there.
func TestAFaultIsThrownWhereItIsCaught(t *testing.T) {
	in := rods(t, 0, 200)
	in.Prints = in.Prints[:1] // no caller does this
	defer func() {
		if recover() == nil {
			t.Error("nothing was thrown")
		}
	}()
	_, _, _ = seen.Run(t.Context(), in)
}
