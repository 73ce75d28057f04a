package measure_test

import (
	"math"
	"slices"
	"testing"

	"scalewright/finding"
	drawn "scalewright/internal/photograph"
	"scalewright/stage/measure"
)

// A rocket that lies on two of three fins, drawn: in outline they look like a flange that
// would hold it 4 mm too high. Four fins, or none, are not taken for three.
func TestThreeFins(t *testing.T) {
	seeds := map[uint64]bool{74: true, 33: false, 10: false}
	if testing.Short() {
		seeds = map[uint64]bool{74: true} // the others by bench/run
	}
	for seed, three := range seeds {
		photo, truth, err := drawn.Seeded(seed).Sized(2200).Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if n := len(truth.Object.Fins); (n == 3) != three {
			t.Fatalf("seed %d has %d fins", seed, n)
		}
		r, list, err := measure.Run(t.Context(), measure.Input{Photo: photo})
		if err != nil {
			t.Fatal(err)
		}
		taken := slices.ContainsFunc(list, func(f finding.Finding) bool { return f.Code == "fins-taken" })
		if r.Lost || taken != three {
			t.Errorf("seed %d: lost %v, three fins taken %v, want %v", seed, r.Lost, taken, three)
			continue
		}
		if !three {
			continue
		}
		if off := math.Abs(r.Length.Value/truth.Object.Length - 1); off > 0.01 {
			t.Errorf("seed %d: length %.2f mm, true %.2f", seed, r.Length.Value, truth.Object.Length)
		}
		for _, z := range [2][2]float64{{r.Axis.StartMM, truth.Object.Start}, {r.Axis.EndMM, truth.Object.End}} {
			if math.Abs(z[0]-z[1]) > 1.5 {
				t.Errorf("seed %d: axis %.1f mm over the mat, true %.1f", seed, z[0], z[1])
			}
		}
	}
}
