package job_test

import (
	"math"
	"testing"

	"scalewright/finding"
	"scalewright/job"
	"scalewright/solid"
)

// A clean build's verdict names what may go wrong, each once, worst first, and
// no note that needs nothing done.
func TestVerdictForesees(t *testing.T) {
	t.Parallel()
	r := theRocket(t)
	if len(r.Risks) == 0 || len(r.Verdict.Worst) == 0 {
		t.Fatal("nothing may go wrong")
	}
	for i, f := range r.Verdict.Worst {
		if f.Code != r.Risks[i].What.Code || f.Stage != "foresee" {
			t.Errorf("the verdict's %d. is %s of %s, want %s", i+1, f.Code, f.Stage, r.Risks[i].What.Code)
		}
	}
}

// What stands in the way comes before what may go wrong.
func TestVerdictNamesCautionsFirst(t *testing.T) {
	t.Parallel()
	in := foyer()
	in.Declared.Calendar.Ready = "2026-12-01"
	r, err := job.Run(t.Context(), in)
	if err != nil {
		t.Fatal(err)
	}
	if worst := r.Verdict.Worst; len(worst) == 0 || worst[0].Severity < finding.Caution {
		t.Errorf("worst %v, want the date first", worst)
	}
}

// The slices are as wide as the joint asks, at the flats: the sides are the real
// ones.
func TestSliceIsAsWideAsTheJoint(t *testing.T) {
	t.Parallel()
	r := theRocket(t)
	if r.Slice == nil {
		t.Fatal("no test slice")
	}
	for _, side := range r.Slice.Sides {
		box := side.Solid.Bounds()
		if side.Minutes <= 0 || side.Grams <= 0 || box.Size()[2] > 15+1e-9 || box.Min[2] != 0 {
			t.Errorf("%s: %v, %v g, %v high", side.Piece, side.Minutes, side.Grams, box.Size()[2])
		}
		layers, err := solid.Sections(side.Solid, []float64{box.Size()[2] / 2})
		if err != nil {
			t.Fatal(err)
		}
		c := [2]float64{(box.Min[0] + box.Max[0]) / 2, (box.Min[1] + box.Max[1]) / 2}
		least, most := math.Inf(1), 0.0
		for _, loop := range layers[0].Loops {
			corner := 0.0
			for _, p := range loop {
				corner = max(corner, math.Hypot(p[0]-c[0], p[1]-c[1]))
			}
			least, most = min(least, corner), max(most, corner)
		}
		got := 2 * most
		if !side.Inside {
			got = 2 * least
		}
		if want := float64(side.Size.Nominal); math.Abs(got-want) > 1e-4 {
			t.Errorf("%s is %v across where it mates, want %v", side.Piece, got, want)
		}
	}
}
