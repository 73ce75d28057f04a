package measure_test

import (
	"math"
	"slices"
	"testing"

	"scalewright/finding"
	drawn "scalewright/internal/photograph"
	"scalewright/stage/measure"
)

// A hexagonal plate lies on a flat and shows its corners at its sides: by them it would hold
// the body up 2.7 mm too high.
func TestPlateOnItsFlat(t *testing.T) {
	photo, truth, err := drawn.Seeded(161).Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if len(truth.Object.Plates) != 1 {
		t.Fatal("no plate")
	}
	r, list, err := measure.Run(t.Context(), measure.Input{Photo: photo})
	if err != nil || r.Lost {
		t.Fatal(err, list)
	}
	if !slices.ContainsFunc(list, func(f finding.Finding) bool { return f.Code == "rests-otherwise" }) {
		t.Errorf("nobody says that it rests otherwise: %v", list)
	}
	// Which end is the datum the photograph does not say. The rims tell the slope to a third
	// of a degree, which is 0.6 mm at either end.
	is, want := []float64{r.Axis.StartMM, r.Axis.EndMM}, []float64{truth.Object.Start, truth.Object.End}
	slices.Sort(is)
	slices.Sort(want)
	for k := range want {
		if math.Abs(is[k]-want[k]) > 1 {
			t.Errorf("axis %.2f mm over the mat, true %.2f", is[k], want[k])
		}
	}
}
