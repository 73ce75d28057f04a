package enlarge_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/enlarge"
	"scalewright/unit"
)

func input(seen unit.Value, read string) enlarge.Input {
	in := enlarge.Input{Trace: model.Trace{Length: seen}, Enlarge: model.DeclaredEnlarge{Ratio: 6}}
	in.Reference.At = finding.Place{File: "build.yaml", Path: "reference"}
	if read != "" {
		if err := in.Reference.Length.UnmarshalText([]byte(read)); err != nil {
			panic(err)
		}
	}
	return in
}

func ExampleRun() {
	in := input(unit.Estimate(218.6, 0.2), "218.5 ± 0.2 ref")
	in.Enlarge = model.DeclaredEnlarge{Length: unit.Shop(1311)}
	r, found, err := enlarge.Run(context.Background(), in)
	fmt.Printf("ratio %.4f, %.0f ± %.1f mm, %v %v\n", r.Ratio, r.Length.X, r.Length.U, found, err)
	// Output: ratio 5.9986, 1311 ± 0.8 mm, [] <nil>
}

// Without an outline the reading is all there is; without that, only a ratio.
func TestWithoutAnOutline(t *testing.T) {
	r, found, err := enlarge.Run(t.Context(), input(unit.Value{}, "80 ± 0.3 ref"))
	if err != nil || len(found) > 0 || r.Reference.X != 80 || r.Reference.U != 0.3 || math.Abs(r.Length.X-480) > 1e-9 {
		t.Errorf("a reading: %+v, %v, %v", r, found, err)
	}
	r, found, err = enlarge.Run(t.Context(), input(unit.Value{}, ""))
	if err != nil || len(found) > 0 || r.Ratio != 6 || r.Length.X != 0 {
		t.Errorf("a ratio: %+v, %v, %v", r, found, err)
	}
	in := input(unit.Value{}, "")
	in.Enlarge = model.DeclaredEnlarge{Length: unit.Shop(900)}
	r, found, err = enlarge.Run(t.Context(), in)
	if err != nil || len(found) != 1 || found[0].Code != "nothing-to-enlarge" || r.Ratio != 0 {
		t.Errorf("a length of nothing: %+v, %v, %v", r, found, err)
	}
}

func TestReadingAndPhotograph(t *testing.T) {
	for _, c := range []struct {
		name     string
		seen     unit.Value
		read     string
		x, u     float64
		disagree bool
	}{
		{"no reading", unit.Estimate(218.6, 0.2), "", 218.6, 0.2, false},
		{"equal doubts: the middle", unit.Estimate(218.6, 0.2), "218.4 ± 0.2 ref", 218.5, 0.2 / math.Sqrt2, false},
		// Weights 1/0.04 and 1/0.01: 0.2·218.6 + 0.8·218.5.
		{"a better reading weighs more", unit.Estimate(218.6, 0.2), "218.5 ± 0.1 ref", 218.52, 1 / math.Sqrt(125), false},
		{"a reading without doubt is a caliper's", unit.Estimate(218.6, 0.05), "218.5 ref", 218.55, 0.05 / math.Sqrt2, false},
		{"just under three doubts", unit.Estimate(100, 0.3), "101.49 ± 0.4 ref", 100.5364, 0.24, false},
		{"just past three doubts", unit.Estimate(100, 0.3), "101.51 ± 0.4 ref", 100, 0.3, true},
		{"a photograph without doubt", unit.Exact(100), "100.1 ± 0.1 ref", 100, 0, false},
	} {
		r, found, err := enlarge.Run(context.Background(), input(c.seen, c.read))
		if err != nil || math.Abs(r.Reference.X-c.x) > 1e-4 || math.Abs(r.Reference.U-c.u) > 1e-4 {
			t.Errorf("%s: %v, %v, want %v ± %v", c.name, r.Reference, err, c.x, c.u)
		}
		if disagree := len(found) == 1 && found[0].Code == "reading-disagrees" && found[0].At.Path == "reference.length"; disagree != c.disagree || len(found) > 1 {
			t.Errorf("%s: found %v", c.name, found)
		}
		if r.Ratio != 6 || math.Abs(r.Length.X-6*r.Reference.X) > 1e-9 || math.Abs(r.Length.U-6*r.Reference.U) > 1e-9 {
			t.Errorf("%s: ratio %v, length %v", c.name, r.Ratio, r.Length)
		}
	}
}

func TestLengthSetsTheRatio(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seen := unit.Estimate(rapid.Float64Range(10, 1000).Draw(t, "seen"), rapid.Float64Range(0, 1).Draw(t, "u"), unit.Source{Name: "photograph", U: 0.1})
		in := input(seen, "")
		in.Enlarge = model.DeclaredEnlarge{Length: unit.Shop(rapid.Float64Range(50, 5000).Draw(t, "length"))}
		r, found, err := enlarge.Run(context.Background(), in)
		if err != nil || len(found) != 0 || math.Abs(r.Length.X-in.Enlarge.Length.MM) > 1e-9*r.Length.X || math.Abs(r.Ratio*seen.X-r.Length.X) > 1e-9*r.Length.X {
			t.Errorf("ratio %v, length %v, want %v; %v, %v", r.Ratio, r.Length, in.Enlarge.Length.MM, found, err)
		}
	})
}
