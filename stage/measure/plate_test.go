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
	photo, truth, err := drawn.Seeded(161).Sized(2200).Draw(t.Context())
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
	for _, z := range [2][2]float64{{r.Axis.StartMM, truth.Object.Start}, {r.Axis.EndMM, truth.Object.End}} {
		if math.Abs(z[0]-z[1]) > 0.5 {
			t.Errorf("axis %.2f mm over the mat, true %.2f", z[0], z[1])
		}
	}
}
