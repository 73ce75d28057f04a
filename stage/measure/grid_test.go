package measure_test

import (
	"bytes"
	"image"
	"image/png"
	"testing"

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
	img := image.NewGray(image.Rect(0, 0, 800, 600))
	for i := range img.Pix {
		x, y := i%800, i/800
		img.Pix[i] = 70
		if x%40 < 2 || y%40 < 2 {
			img.Pix[i] = 200
		}
	}
	var photo bytes.Buffer
	if err := png.Encode(&photo, img); err != nil {
		t.Fatal(err)
	}
	_, list, err := measure.Run(t.Context(), measure.Input{Photo: photo.Bytes()})
	if err != nil || len(list) != 1 || list[0].Code != "grid-step-unknown" {
		t.Errorf("findings %v, error %v, want grid-step-unknown alone", list, err)
	}
}
