package measure_test

import (
	"bytes"
	"image"
	"image/png"
	"slices"
	"testing"

	"scalewright/finding"
	drawn "scalewright/internal/photograph"
	"scalewright/model"
	"scalewright/stage/measure"
)

// The grid of a photograph is found, a step that was told wrongly is not believed.
func TestGridFound(t *testing.T) {
	photo, tr := load(t, "ex2_plumb")
	r, list, err := measure.Run(t.Context(), measure.Input{Photo: photo})
	if err != nil || r.Lost {
		t.Fatalf("lost %v, error %v, findings %v", r.Lost, err, list)
	}
	if !r.Grid.Found || r.Grid.PitchMM != tr.Mat.Pitch || r.Grid.Crossings < 300 || r.Grid.RMSPx > 0.1 {
		t.Errorf("grid %+v, the mat's step is %g", r.Grid, tr.Mat.Pitch)
	}
	_, list, err = measure.Run(t.Context(), measure.Input{Photo: photo, Marks: model.Marks{PitchMM: 12.7}})
	if err != nil || len(list) != 1 || list[0].Code != "grid-step-differs" {
		t.Errorf("findings %v, error %v, want grid-step-differs alone", list, err)
	}
}

// A grid without a ruler and without a divided border may be a centimetre's or an
// inch's: the program asks.
func TestGridStepUnknown(t *testing.T) {
	_, list, err := measure.Run(t.Context(), measure.Input{Photo: ruled(t, 0)})
	if err != nil || len(list) != 1 || list[0].Code != "grid-step-unknown" {
		t.Errorf("findings %v, error %v, want grid-step-unknown alone", list, err)
	}
}

// Where one line in five is heavier it is likely a centimetre's: that is said, until
// the step is told.
func TestGridStepLikely(t *testing.T) {
	for told, want := range map[float64]bool{0: true, 10: false} {
		in := measure.Input{Photo: ruled(t, 5), Marks: model.Marks{PitchMM: told}}
		r, list, err := measure.Look(t.Context(), in)
		said := slices.ContainsFunc(list, func(f finding.Finding) bool { return f.Code == "grid-step-likely" })
		if err != nil || r.Grid.PitchMM != 10 || said != want {
			t.Errorf("told %g: step %g, findings %v, error %v", told, r.Grid.PitchMM, list, err)
		}
	}
}

// A ruler laid along the grid has every tenth stroke where one of the grid's lines is
// painted over to find it: it is read nevertheless, and tells the step for sure.
func TestRulerAlongGrid(t *testing.T) {
	photo, truth, err := drawn.Seeded(209).Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	r, list, err := measure.Look(t.Context(), measure.Input{Photo: photo})
	if err != nil || r.Grid.PitchMM != truth.Mat.Pitch || len(list) > 0 {
		t.Errorf("step %g, findings %v, error %v, want %g and nothing said", r.Grid.PitchMM, list, err, truth.Mat.Pitch)
	}
}

// ruled is a mat with nothing on it but its lines, every so many of them heavier.
func ruled(t *testing.T, every int) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 800, 600))
	for i := range img.Pix {
		x, y := i%800, i/800
		inked := func(v int) bool { // two pixels, the heavier ones four about the same middle
			v++
			return v%40 == 1 || v%40 == 2 || every > 0 && v/40%every == 0 && v%40 < 4
		}
		img.Pix[i] = 70
		if inked(x) || inked(y) {
			img.Pix[i] = 200
		}
	}
	var photo bytes.Buffer
	if err := png.Encode(&photo, img); err != nil {
		t.Fatal(err)
	}
	return photo.Bytes()
}
