package measure_test

import (
	"math"
	"slices"
	"testing"

	"scalewright/finding"
	drawn "scalewright/internal/photograph"
	"scalewright/model"
	"scalewright/stage/measure"
)

// shotCodes are the findings of a faulty shot.
var shotCodes = []finding.Code{
	"photo-blurred", "photo-blurred-all", "photo-burnt", "photo-dark", "camera-tilted", "camera-near",
	"object-over-mat", "object-cut-off", "object-off-grid", "ruler-out-of-plane",
}

// One scene, taken well and with every fault: the fault is said, with its figure,
// and no other one.
func TestShotFaults(t *testing.T) {
	good := drawn.Seeded(48).Sized(1250).Centred()
	_, y, _ := good.Bodied()
	for _, tt := range []struct {
		name  string
		scene drawn.Scene
		want  finding.Code
		arg   string
		least float64 // of the argument
		most  float64
		also  []finding.Code // what goes with it
	}{
		{name: "taken well", scene: good},
		{"blurred", good.Blurred(4), "photo-blurred", "px", 2.5, 5, nil},
		{"blurred beyond the grid", good.Blurred(8), "photo-blurred-all", "px", 5, 9, nil},
		{"three times the light", good.Exposed(3), "photo-burnt", "edge", 30, 100, nil},
		{"an eighth of the light", good.Exposed(0.125), "photo-dark", "share", 5, 15, nil},
		{"leaned by 15°", good.From(365, 0, 15*math.Pi/180, 1), "camera-tilted", "tilt", 14.5, 15.5, nil},
		{"from 150 mm", good.From(150, 0.4, 0.02, 1).Centred(), "camera-near", "height", 145, 155, nil},
		{"over the mat's edge", good.Laid(5, y), "object-over-mat", "over", 60, 140, nil},
		{"out of the picture", good.Aside(150, 0), "object-cut-off", "", 0, 0, nil},
		{"ruler with one end up", drawn.Seeded(33).Sized(1800).Ruled(0, 0.015), "ruler-out-of-plane", "rise", 2, 6, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if testing.Short() && !slices.Contains([]finding.Code{"", "photo-blurred", "object-over-mat"}, tt.want) {
				t.Skip("all of them by bench/run; each rule has a test of its own in shot_internal_test.go")
			}
			photo, truth, err := tt.scene.Draw(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			_, list, err := measure.Run(t.Context(), measure.Input{Photo: photo, Marks: model.Marks{PitchMM: truth.Mat.Pitch}})
			if err != nil {
				t.Fatal(err)
			}
			said := tt.want == ""
			for _, f := range list {
				t.Log(f.Code, f.Args)
				if f.Code == tt.want {
					said = true
					if v := figure(f.Args[tt.arg]); tt.arg != "" && !(v >= tt.least && v <= tt.most) {
						t.Errorf("%s is %g, want %g to %g", tt.arg, v, tt.least, tt.most)
					}
				} else if slices.Contains(shotCodes, f.Code) && !slices.Contains(tt.also, f.Code) {
					t.Errorf("%s is said too: %v", f.Code, f.Args)
				}
			}
			if !said {
				t.Errorf("%s is not said", tt.want)
			}
		})
	}
}

func figure(a finding.Arg) float64 {
	switch a := a.(type) {
	case finding.Number:
		return float64(a)
	case finding.Size:
		return float64(a)
	case finding.Long:
		return float64(a)
	case finding.Fine:
		return float64(a)
	case finding.Count:
		return float64(a)
	}
	return math.NaN()
}
