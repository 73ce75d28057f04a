package measure_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/finding"
	drawn "scalewright/internal/photograph"
	"scalewright/stage/measure"
)

// Photographs drawn apart from this stage, small: whatever is found, it is right or
// a finding says that it may not be. bench/measure does the same for hundreds.
func TestDrawnNeverWrongInSilence(t *testing.T) {
	found, seeds := 0, []uint64{10, 28, 40}
	if testing.Short() {
		seeds = seeds[:1] // the others by bench/run
	}
	for _, seed := range seeds {
		photo, truth, err := drawn.Seeded(seed).Sized(2200).Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		r, list, err := measure.Run(t.Context(), measure.Input{Photo: photo})
		if err != nil {
			t.Fatal(err)
		}
		warned := list.Blocked()
		for _, f := range list {
			warned = warned || f.Severity >= finding.Caution
		}
		if r.Lost && !list.Blocked() {
			t.Errorf("seed %d: no profile, and nothing says why", seed)
		}
		if r.Grid.Found {
			found++
			if step := r.Grid.PitchMM; math.Abs(step/truth.Mat.Pitch-1) > 0.005 {
				t.Errorf("seed %d: the grid's step is %.2f mm, found %.2f", seed, truth.Mat.Pitch, step)
			}
			if off := stretchOf(truth, r); off > 0.002 {
				t.Errorf("seed %d: lengths on the mat are off by a share of %.4f", seed, off)
			}
		}
		if off := math.Abs(r.Length.Value/truth.Object.Length - 1); !r.Lost && !warned && off > 0.01 {
			t.Errorf("seed %d: length %.2f mm, true %.2f, and nothing said", seed, r.Length.Value, truth.Object.Length)
		}
	}
	if found < len(seeds) {
		t.Errorf("the grid was found in %d of %d photographs", found, len(seeds))
	}
}

// stretchOf is the worst error of the distances between the marks that can be seen,
// as a share, by the camera that was found.
func stretchOf(truth drawn.Truth, r measure.Result) (worst float64) {
	marks := truth.Mat.Suggested
	for i, a := range marks {
		for _, b := range marks[:i] {
			p, ok1 := r.Lens.OnPlane(r2.Vec{X: a.Px[0], Y: a.Px[1]}, 0)
			q, ok2 := r.Lens.OnPlane(r2.Vec{X: b.Px[0], Y: b.Px[1]}, 0)
			far := math.Hypot(a.True[0]-b.True[0], a.True[1]-b.True[1])
			if !ok1 || !ok2 || far == 0 {
				continue
			}
			worst = max(worst, math.Abs(math.Hypot(p.X-q.X, p.Y-q.Y)/far-1))
		}
	}
	return worst
}

// A body that lies over a ruler's edge is measured as one that does not: neither that edge
// nor the ruler's strokes are taken for its own.
func TestOverARulersEdge(t *testing.T) {
	photo, truth, err := drawn.Seeded(371).Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	r, _, err := measure.Run(t.Context(), measure.Input{Photo: photo, Datum: "left"})
	if err != nil || r.Lost {
		t.Fatalf("lost %v, error %v", r.Lost, err)
	}
	if off := math.Abs(r.Length.Value - truth.Object.Length); off > 0.4 {
		t.Errorf("length %.2f mm, true %.2f", r.Length.Value, truth.Object.Length)
	}
	far, dense := 0, truth.Object.Dense
	for _, p := range r.Profile {
		s := p.Station
		if truth.Object.StartPx[0] > truth.Object.EndPx[0] {
			s = truth.Object.Length - s
		}
		k := min(max(int(math.Round(s/dense.Step)), 0), len(dense.Radius)-1)
		if math.Abs(p.Radius-dense.Radius[k]) > 0.2 {
			far++
		}
	}
	if len(r.Profile) < 100 || 10*far > len(r.Profile) {
		t.Errorf("%d of %d radii are wrong by more than 0.2 mm", far, len(r.Profile))
	}
}
