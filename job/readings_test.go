package job_test

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"os"
	"testing"

	"scalewright/job"
	"scalewright/model"
	"scalewright/stage/measure"
	"scalewright/stage/readings"
)

// rms is how far a profile lies from the truth, the fins and what lies 3 mm from
// steps and ends left out.
func rms(profile []measure.Point, truth drawn) float64 {
	sum, n := 0.0, 0.0
	for _, p := range profile {
		k := int(p.Station / truth.Object.Dense.Step)
		if p.Station < 65 || p.Station > 210 || k+1 >= len(truth.Object.Dense.Radius) {
			continue
		}
		step := false
		for _, s := range truth.Object.Segments {
			step = step || s.S0 == s.S1 && math.Abs(p.Station-s.S0) < 3
		}
		if !step {
			d := p.Radius - truth.Object.Dense.Radius[k]
			sum, n = sum+d*d, n+1
		}
	}
	return math.Sqrt(sum / n)
}

// One true diameter betters the whole profile; with two digits swapped it is named
// and changes nothing.
func TestOneDiameterBettersTheProfile(t *testing.T) {
	text, err := os.ReadFile("../../shared/data/photos/ex1_rocket.json")
	if err != nil {
		t.Skip("the truth beside the photograph is not on this machine: ", err)
	}
	var truth drawn
	if err := json.Unmarshal(text, &truth); err != nil {
		t.Fatal(err)
	}
	demo := demo(t)
	in := measure.Input{Photo: demo.Photo, Marks: demo.Marks, Datum: "left"}
	const at = 100.0
	across := 2 * truth.Object.Dense.Radius[int(at/truth.Object.Dense.Step)]
	alone, found, err := job.Measure(t.Context(), in, nil)
	if err != nil || alone.Readings.Count != 0 {
		t.Fatalf("%v, %v", found, err)
	}
	with, _, err := job.Measure(t.Context(), in, []readings.Reading{{Kind: readings.Diameter, X: across, Station: at}})
	if err != nil || with.Readings.Count != 1 {
		t.Fatalf("%+v, %v", with.Readings.Taken, err)
	}
	before, after := rms(alone.Profile, truth), rms(with.Profile, truth)
	t.Logf("rms of the radius %.3f mm alone, %.3f with a diameter; its doubt at 150 %.3f and %.3f", before, after, uAt(alone.Result, 150), uAt(with.Result, 150))
	if after > before || uAt(with.Result, 150) >= uAt(alone.Result, 150) {
		t.Errorf("rms %.4f, was %.4f", after, before)
	}
	// The body is 42 across; 24 is typed.
	swapped, found, err := job.Measure(t.Context(), in, []readings.Reading{{Kind: readings.Diameter, X: 24, Text: "24 ref", Station: at}})
	if err != nil || swapped.Readings.Count != 0 || found[len(found)-1].Code != "reading-swapped" {
		t.Errorf("%v, %v", found, err)
	}
}

func uAt(r measure.Result, station float64) float64 {
	for _, p := range r.Profile {
		if p.Station >= station {
			return p.U
		}
	}
	return math.NaN()
}

// A build says its readings where the outline is typed too; those of a build without
// any change nothing.
func TestReadingsOfABuild(t *testing.T) {
	in := demo(t)
	ref := &in.Declared.Reference
	ref.Photo, ref.Outline, ref.Hidden = "", "outlines/typed.yaml", nil
	in.Outlines = map[string]model.DeclaredOutline{"outlines/typed.yaml": {Path: model.Lines(0, 18, 40, 18, 40, 21, 218, 21), DoubtMM: 0.2}}
	for _, id := range []string{"outlines/fin.yaml", "outlines/porthole.yaml", "outlines/diffuser.yaml", "outlines/tail.yaml", "outlines/groove.yaml", "outlines/tip.yaml"} {
		in.Outlines[id] = demo(t).Outlines[id]
	}
	radius := func() float64 {
		t.Helper()
		var got job.Result
		ctx, stop := context.WithCancel(t.Context())
		in.Reached = func(step string, so job.Result) {
			if step == "readings" {
				got = so
				stop()
			}
		}
		if _, err := job.Run(ctx, in); !errors.Is(err, context.Canceled) {
			t.Fatal(err)
		}
		return got.Trace.Outline.RadiusAt(100)
	}
	if r := radius(); r != 21 {
		t.Errorf("nothing read: radius %v", r)
	}
	var d model.DeclaredReading
	if err := d.Diameter.UnmarshalText([]byte("42.4 ± 0.05 ref")); err != nil {
		t.Fatal(err)
	}
	d.Station.MM = 100
	ref.Readings = append(ref.Readings, d)
	// The typed radius is ± 0.2, the read one ± 0.025.
	if r, want := radius(), (21/0.04+21.2/0.000625)/(1/0.04+1/0.000625); math.Abs(r-want) > 1e-6 {
		t.Errorf("radius %v, want %v", r, want)
	}
}
