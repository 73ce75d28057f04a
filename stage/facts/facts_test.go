package facts_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"scalewright/model"
	"scalewright/stage/facts"
	"scalewright/unit"
)

func shop() model.Shop {
	return model.Shop{Printers: []model.Printer{
		{ID: "heron", Calibrated: model.Calibration{Outer: unit.Value{X: 0.05, U: 0.05}, Bore: unit.Value{X: -0.25, U: 0.06}, Measured: true}},
		{ID: "wren", Calibrated: model.Calibration{Outer: unit.Value{U: 0.2}, Bore: unit.Value{X: -0.2, U: 0.2}}},
	}}
}

func read(printer, what string, asked, came float64) model.Event {
	return model.Event{Kind: model.Measured, Printer: printer, What: what, Asked: asked, Came: came}
}

func mustRead(t testing.TB, events ...model.Event) facts.Result {
	t.Helper()
	r, found, err := facts.Run(context.Background(), facts.Input{Events: events, Shop: shop()})
	if err != nil || len(found) != 0 {
		t.Fatalf("Run: %v, %v", found, err)
	}
	return r
}

func ExampleRun() {
	r, _, _ := facts.Run(context.Background(), facts.Input{Shop: shop(), Events: []model.Event{
		read("wren", "outer", 100, 100.12), read("wren", "bore", 50, 49.81),
	}})
	c := r.Shop.Printers[1].Calibrated
	fmt.Printf("outer %+.2f ± %.2f, bore %+.2f ± %.2f, measured %v\n", c.Outer.X, c.Outer.U, c.Bore.X, c.Bore.U, c.Measured)
	// Output: outer +0.11 ± 0.05, bore -0.19 ± 0.05, measured true
}

func TestEmptyLogLeavesTheShopAsDeclared(t *testing.T) {
	r := mustRead(t)
	if diff := cmp.Diff(shop(), r.Shop); diff != "" {
		t.Errorf("shop (-want +got):\n%s", diff)
	}
	if r.Made != nil || r.CoreWidth != nil || len(r.Took) != 0 || len(r.TookTask) != 0 || r.Done != nil {
		t.Errorf("of an empty log: %+v", r)
	}
}

// The readings of JCGM 100:2008, 4.4.3, table 1 and figure 1 (twenty
// temperatures, mean 100.145, s 1.489, s of the mean 0.333), taken as how far
// diameters came out over 0.
func TestMeanOfReadingsIsTheGuides(t *testing.T) {
	temperatures := []float64{
		96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07,
		100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
	}
	var events []model.Event
	for _, x := range temperatures {
		events = append(events, read("wren", "outer", 0, x))
	}
	in := facts.Input{Events: events, Shop: shop()}
	in.Shop.Printers[1].Calibrated.Outer = unit.Value{U: 1e9} // nothing declared to speak of
	r, _, err := facts.Run(context.Background(), in)
	got := r.Shop.Printers[1].Calibrated
	if err != nil || math.Abs(got.Outer.X-100.145) > 5e-4 || math.Abs(got.Outer.U-0.333) > 5e-4 {
		t.Errorf("mean %v ± %v, want 100.145 ± 0.333", got.Outer.X, got.Outer.U)
	}
	if got.Measured || !got.OuterRead || got.BoreRead {
		t.Errorf("only the outside was read: %+v", got)
	}
}

func TestWeighing(t *testing.T) {
	for _, c := range []struct {
		name  string
		reads []float64
		x, u  float64
	}{
		// Declared 0.05 ± 0.05; one reading of 0.15 ± 0.05: the middle, ±0.05/√2.
		{"one reading as good as the declaration", []float64{0.15}, 0.10, 0.05 / math.Sqrt2},
		// Two alike: scatter 0, so the caliper's 0.03 counts.
		{"readings all alike", []float64{0.05, 0.05}, 0.05, 1 / math.Sqrt(1/0.0025+1/0.0009)},
		{"none", nil, 0.05, 0.05},
	} {
		var events []model.Event
		for _, x := range c.reads {
			events = append(events, read("heron", "outer", 100, 100+x))
		}
		got := mustRead(t, events...).Shop.Printers[0].Calibrated.Outer
		if math.Abs(got.X-c.x) > 1e-9 || math.Abs(got.U-c.u) > 1e-9 {
			t.Errorf("%s: %v ± %v, want %v ± %v", c.name, got.X, got.U, c.x, c.u)
		}
	}
}

// Readings never make the offset less certain, and the mean lies between.
func TestReadingsOnlyHelp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var events []model.Event
		least, most := 0.05, 0.05
		for range rapid.IntRange(1, 8).Draw(t, "n") {
			x := float64(rapid.IntRange(-50, 50).Draw(t, "hundredths")) / 100
			least, most = min(least, x), max(most, x)
			events = append(events, read("heron", "outer", 100, 100+x))
		}
		r, _, _ := facts.Run(context.Background(), facts.Input{Events: events, Shop: shop()})
		got := r.Shop.Printers[0].Calibrated.Outer
		if got.U > 0.05 || got.X < least-1e-9 || got.X > most+1e-9 {
			t.Errorf("offset %v ± %v of readings %v to %v", got.X, got.U, least, most)
		}
		if diff := cmp.Diff(shop().Printers[1], r.Shop.Printers[1]); diff != "" {
			t.Errorf("the other printer moved (-want +got):\n%s", diff)
		}
	})
}

func TestStoryOfAPiece(t *testing.T) {
	const piece = "tail.foot.nose"
	released := model.Event{Kind: model.Released, Piece: piece, Label: "A1", Revision: 3}
	printed := model.Event{Kind: model.Printed, Piece: piece, Minutes: 300}
	failed := model.Event{Kind: model.Failed, Piece: piece}
	for _, c := range []struct {
		name   string
		events []model.Event
		made   model.Made
		done   []string
		took   unit.Minutes
	}{
		{"released", []model.Event{released}, model.Made{Piece: piece, Label: "A1", Revision: 3}, nil, 0},
		{"printed", []model.Event{released, printed}, model.Made{Piece: piece, Label: "A1", Revision: 3, Printed: true}, []string{"print." + piece}, 300},
		{"failed", []model.Event{released, printed, failed}, model.Made{Piece: piece, Label: "A1", Revision: 3, Failures: 1}, nil, 0},
		{"printed again", []model.Event{released, failed, failed, printed}, model.Made{Piece: piece, Label: "A1", Revision: 3, Printed: true, Failures: 2}, []string{"print." + piece}, 300},
	} {
		r := mustRead(t, c.events...)
		if len(r.Made) != 1 || r.Made[0] != c.made || r.Took[piece] != c.took || !cmp.Equal(append([]string{}, r.Done...), append([]string{}, c.done...)) {
			t.Errorf("%s: %+v", c.name, r)
		}
	}
	again := mustRead(t, model.Event{Kind: model.Done, Task: "saw.core", Minutes: 30}, model.Event{Kind: model.Done, Task: "saw.core", Minutes: 45}, model.Event{Kind: model.Done, Task: "join.a-b"})
	if len(again.TookTask) != 1 || again.TookTask["saw.core"] != 45 {
		t.Errorf("bench minutes %v, want those said last of the core and no others", again.TookTask)
	}
	r := mustRead(t, model.Event{Kind: model.Done, Task: "saw.core"}, model.Event{Kind: model.Remark, Text: "wet filament"}, read("", "core", 0, 110.4), read("", "core", 0, 111.0))
	if len(r.Done) != 1 || r.Done[0] != "saw.core" || r.CoreWidth == nil || r.CoreWidth.X != 111.0 || r.CoreWidth.U != 0.03 {
		t.Errorf("%+v, core %v", r, r.CoreWidth)
	}
	if r.CoreMean == nil || math.Abs(r.CoreMean.X-110.7) > 1e-9 {
		t.Errorf("mean of 110.4 and 111: %v", r.CoreMean)
	}
}
