package readings_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/readings"
	"scalewright/unit"
)

// seen is a trace as a photograph gives it: the profile of an outline with a scale
// and a height that all stations share, and noise of each its own.
func seen(o model.Outline, scale, height, noise float64) model.Trace {
	t := model.Trace{Outline: o, Length: unit.Estimate(o.End(), 0.1, unit.Source{Name: "photograph: camera 1", U: scale * o.End()})}
	for s := 0.0; s <= o.End(); s += 0.5 {
		r := o.RadiusAt(s)
		t.Profile = append(t.Profile, model.TracePoint{Station: s, Radius: unit.Estimate(r, noise,
			unit.Source{Name: "photograph: camera 1", U: scale * r}, unit.Source{Name: "photograph: height of the axis", U: height})})
	}
	return t
}

// bobbin is a turned thing of three cylinders and a cone.
func bobbin() model.Outline {
	return model.Lines(0, 15, 30, 15, 30, 21, 90, 21, 90, 12, 120, 12, 150, 6)
}

func read(kind readings.Kind, text string, x, u float64, at ...float64) readings.Reading {
	r := readings.Reading{At: finding.Place{File: "build.yaml", Path: "reference.readings.0"}, Kind: kind, X: x, U: u, Text: text}
	if kind == readings.Length {
		r.From, r.To = at[0], at[1]
	} else {
		r.Station = at[0]
	}
	return r
}

func run(t *testing.T, trace model.Trace, all ...readings.Reading) (readings.Result, finding.List) {
	t.Helper()
	out, found, err := readings.Run(t.Context(), readings.Input{Trace: trace, Readings: all})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range found {
		if text := (finding.Writer{}).Message(f); text == "" {
			t.Errorf("%s says nothing", f.Code)
		}
	}
	return out, found
}

func ExampleRun() {
	// A photograph that leaves 0.3 % of scale: 42 ± 0.13 across.
	trace := seen(model.Lines(0, 21, 60, 21, 60, 14, 100, 14), 0.003, 0, 0.02)
	out, found, err := readings.Run(context.Background(), readings.Input{Trace: trace, Readings: []readings.Reading{
		{Kind: readings.Diameter, Station: 30, X: 42.1, U: 0.02, Text: "42.1 ± 0.02 ref"},
	}})
	before, after := trace.Profile[160].Radius, out.Trace.Profile[160].Radius
	fmt.Printf("radius at 80: %.3f ± %.3f, then %.3f ± %.3f; %v %v\n", before.X, before.U, after.X, after.U, found, err)
	// Output: radius at 80: 14.000 ± 0.047, then 14.032 ± 0.021; [] <nil>
}

// With one shared cause and readings of one cylinder, everything is closed form: the
// weighted mean of the photograph and the readings (JCGM 100:2008, 4.2 with weights;
// any text on least squares).
func TestOneCauseIsTheWeightedMean(t *testing.T) {
	o := model.Lines(0, 20, 100, 20)
	trace := seen(o, 0, 0.05, 0) // radius ± 0.05: diameter ± 0.1
	out, _ := run(t, trace, read(readings.Diameter, "40.1 ref", 40.1, 0.1, 30), read(readings.Diameter, "40.2 ref", 40.2, 0.1, 70))
	// Three equal weights: 40.1, ± 0.1/√3.
	p := out.Trace.Profile[100].Radius
	if math.Abs(2*p.X-40.1) > 1e-9 || math.Abs(2*p.U-0.1/math.Sqrt(3)) > 1e-9 {
		t.Errorf("diameter %v ± %v, want 40.1 ± %v", 2*p.X, 2*p.U, 0.1/math.Sqrt(3))
	}
	if r := out.Trace.Outline.RadiusAt(50); math.Abs(r-20.05) > 1e-9 {
		t.Errorf("outline %v, want 20.05", r)
	}
	// Weighted squares: residuals 0.1, 0, 0.1 of 0.1 each, the photograph's among them.
	if math.Abs(out.Chi-2) > 1e-9 || out.Count != 2 {
		t.Errorf("chi %v of %d", out.Chi, out.Count)
	}
}

// A length stretches stations and, through the scale that it shares with them, the
// radii.
func TestLengthIsScaleToo(t *testing.T) {
	trace := seen(bobbin(), 0.004, 0, 0.01)
	out, found := run(t, trace, read(readings.Length, "150.6 ref", 150.6, 0.05, 0, 150))
	if len(found) > 0 || math.Abs(out.Trace.Length.X-150.58) > 0.02 || out.Trace.Length.U > 0.051 {
		t.Errorf("length %v ± %v, %v", out.Trace.Length.X, out.Trace.Length.U, found)
	}
	if end := out.Trace.Outline.End(); math.Abs(end-out.Trace.Length.X) > 1e-6 {
		t.Errorf("outline ends at %v, length %v", end, out.Trace.Length.X)
	}
	r := out.Trace.Outline.RadiusAt(60)
	if share := r/21 - 1; math.Abs(share-0.0039) > 0.0002 {
		t.Errorf("radius %v: grown by %.5f", r, share)
	}
	if last := out.Trace.Profile[len(out.Trace.Profile)-1].Station; math.Abs(last-out.Trace.Outline.End()) > 0.2 {
		t.Errorf("profile ends at %v", last)
	}
}

// Without a reading the trace stays as it is, to the bit.
func TestNoReadings(t *testing.T) {
	trace := seen(bobbin(), 0.004, 0.02, 0.02)
	out, found := run(t, trace)
	if d := cmp.Diff(trace, out.Trace); d != "" || len(found) > 0 {
		t.Errorf("%v, %s", found, d)
	}
	for name, empty := range map[string]model.Trace{
		"nothing": {}, "an outline alone": {Outline: bobbin()}, "no width": {Outline: model.Lines(5, 1, 5, 9), Profile: make([]model.TracePoint, 3)},
	} {
		if out, found := run(t, empty, read(readings.Diameter, "", 10, 0, 5)); len(found) > 0 || out.Next != nil {
			t.Errorf("%s: %v", name, found)
		}
	}
}

// Every slip of a hand is told for what it is.
func TestSlips(t *testing.T) {
	good := read(readings.Diameter, "30 ± 0.02 ref", 30, 0.02, 15)
	for _, c := range []struct {
		code  finding.Code
		wrong readings.Reading
		meant float64
	}{
		{"reading-swapped", read(readings.Diameter, "24 ± 0.02 ref", 24, 0.02, 60), 42},
		{"reading-swapped", read(readings.Diameter, "20.4 ref", 20.4, 0, 60), 0}, // 24.0, 2.04, 02.4: none is 42
		{"reading-swapped", read(readings.Length, "105 ref", 105, 0.1, 0, 150), 150},
		{"reading-point", read(readings.Diameter, "4.2 ref", 4.2, 0.02, 60), 42},
		{"reading-point", read(readings.Diameter, "420 ref", 420, 0.02, 60), 42},
		{"reading-inch", read(readings.Diameter, "1.6535 ref", 1.6535, 0, 60), 41.9989},
		{"reading-radius", read(readings.Diameter, "21 ref", 21, 0.02, 60), 42},
		{"reading-radius", read(readings.Diameter, "84 ref", 84, 0.02, 60), 42},
		{"reading-inconsistent", read(readings.Diameter, "39 ref", 39, 0.02, 60), 0},
		{"reading-nowhere", read(readings.Diameter, "42 ref", 42, 0.02, 300), 0},
		{"reading-nowhere", read(readings.Length, "40 ref", 40, 0.02, 0, 45), 0},
		{"reading-nowhere", read(readings.Length, "40 ref", 40, 0.02, 30, 30), 0},
		{"reading-nowhere", read(readings.Diameter, "", math.NaN(), 0.02, 60), 0},
	} {
		trace := seen(bobbin(), 0.002, 0.02, 0.02)
		out, found := run(t, trace, good, c.wrong)
		code := c.code
		if code == "reading-swapped" && c.meant == 0 {
			code = "reading-inconsistent"
		}
		if len(found) != 1 || found[0].Code != code || found[0].At != c.wrong.At {
			t.Errorf("%s %q: %v, want %s", c.wrong.Kind, c.wrong.Text, found, code)
			continue
		}
		if meant, ok := found[0].Args["meant"].(finding.Fine); ok && math.Abs(float64(meant)-c.meant) > 1e-3 {
			t.Errorf("%q: meant %v, want %v", c.wrong.Text, meant, c.meant)
		}
		if !out.Taken[0].Used || out.Taken[1].Used || out.Count != 1 {
			t.Errorf("%q: taken %+v", c.wrong.Text, out.Taken)
		}
	}
}

// Two readings of one cylinder that contradict each other inside the photograph's
// doubt: nobody can tell which is wrong.
func TestReadingsDisagree(t *testing.T) {
	trace := seen(bobbin(), 0.01, 0.05, 0.02)
	out, found := run(t, trace, read(readings.Diameter, "42.3 ref", 42.3, 0.02, 50), read(readings.Diameter, "41.7 ref", 41.7, 0.02, 70))
	if len(found) != 1 || found[0].Code != "readings-disagree" || out.Count != 0 {
		t.Errorf("%v, %d taken", found, out.Count)
	}
	// A third tells.
	out, found = run(t, trace, read(readings.Diameter, "42.3 ref", 42.3, 0.02, 50), read(readings.Diameter, "41.7 ref", 41.7, 0.02, 70), read(readings.Diameter, "42.29 ref", 42.29, 0.02, 80))
	if len(found) != 1 || found[0].Code != "reading-inconsistent" || out.Count != 2 || out.Taken[1].Used {
		t.Errorf("%v, %+v", found, out.Taken)
	}
}

// A mat printed 3 % small: all readings agree, and not with the photograph.
func TestScaleIsOff(t *testing.T) {
	trace := seen(bobbin(), 0.002, 0.02, 0.02)
	k := 1.03
	out, found := run(t, trace, read(readings.Diameter, "", 42*k, 0.03, 60), read(readings.Diameter, "", 30*k, 0.03, 15), read(readings.Length, "", 150*k, 0.1, 0, 150))
	if len(found) != 1 || found[0].Code != "readings-scale" || out.Count != 3 {
		t.Fatalf("%v, %d taken", found, out.Count)
	}
	if share := float64(found[0].Args["share"].(finding.Number)); math.Abs(share-3) > 0.3 {
		t.Errorf("scale off by %v %%", share)
	}
	if r := out.Trace.Outline.RadiusAt(105); math.Abs(r-12*k) > 0.05 {
		t.Errorf("radius %v where nothing was read, want %v", r, 12*k)
	}
	if math.Abs(out.Trace.Outline.End()-150*k) > 0.2 {
		t.Errorf("ends at %v, want %v", out.Trace.Outline.End(), 150*k)
	}
}

// Law: truths drawn from the stated doubts lie within twice the joint doubt about 95
// times in 100, at every station, whatever was read.
func TestCoverage(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	const scale, height, noise = 0.004, 0.03, 0.02
	in, all := 0, 0
	for range 200 {
		zs, zh := rng.NormFloat64(), rng.NormFloat64()
		truth := func(r float64) float64 { return r + zs*scale*r + zh*height }
		trace := seen(bobbin(), scale, height, noise)
		at := []float64{15, 60, 105}[rng.IntN(3)]
		d := 2*truth(bobbin().RadiusAt(at)) + 0.03*rng.NormFloat64()
		length := 150 + zs*scale*150 + 0.1*rng.NormFloat64() + 0.05*rng.NormFloat64()
		out, found := run(t, trace, read(readings.Diameter, "", d, 0.03, at), read(readings.Length, "", length, 0.05, 0, 150))
		if len(found) > 0 {
			continue // one in a few hundred is taken for wrong
		}
		for k := 10; k < 290; k += 20 {
			p := out.Trace.Profile[k]
			r := bobbin().RadiusAt(trace.Profile[k].Station)
			all++
			if math.Abs(p.Radius.X+noise*rng.NormFloat64()-truth(r)) <= 2*p.Radius.U {
				in++
			}
			if p.Radius.U > trace.Profile[k].Radius.U+1e-9 {
				t.Fatalf("a reading made the doubt at %v larger: %v, was %v", p.Station, p.Radius.U, trace.Profile[k].Radius.U)
			}
		}
	}
	if share := float64(in) / float64(all); share < 0.92 || share > 0.985 {
		t.Errorf("inside twice the doubt: %.3f of %d", share, all)
	}
}

// The reading that is proposed lowers the doubt by what was said, once it is taken.
func TestNextKeepsItsWord(t *testing.T) {
	trace := seen(bobbin(), 0.004, 0.05, 0.01)
	out, _ := run(t, trace)
	n := out.Next
	if n == nil {
		t.Fatal("nothing is proposed")
	}
	r := readings.Reading{Kind: n.Kind, Station: n.Station, From: n.From, To: n.To, X: n.To - n.From}
	if n.Kind == readings.Diameter {
		r.X = 2 * trace.Outline.RadiusAt(n.Station)
	}
	after, found := run(t, trace, r)
	if len(found) > 0 || math.Abs(after.Trace.Outline.RadiusAt(60)-21) > 1e-9 {
		t.Fatalf("a reading that says what was seen moves it: %v", found)
	}
	if _, worst := after.Trace.WorstDoubt(); math.Abs(worst-n.WorstAfter) > 1e-3 {
		t.Errorf("worst %v, said %v", worst, n.WorstAfter)
	}
	if n.After > 0.9*n.Before {
		t.Errorf("from %v to %v is not worth it", n.Before, n.After)
	}
}

// Whatever is typed, the outline can be turned and numbers stay numbers.
func TestAnyReading(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all []readings.Reading
		for range rapid.IntRange(0, 5).Draw(t, "readings") {
			x := rapid.OneOf(rapid.Float64Range(1, 300), rapid.Float64()).Draw(t, "x")
			u := rapid.SampledFrom([]float64{0, 0.001, 0.05, 3, 1e6}).Draw(t, "u")
			kind := rapid.SampledFrom([]readings.Kind{readings.Diameter, readings.Length}).Draw(t, "kind")
			station := rapid.SampledFrom([]float64{-5, 0, 15, 30, 60, 90, 119.9, 135, 150, 151, 1e9})
			all = append(all, readings.Reading{Kind: kind, X: x, U: u, Text: fmt.Sprint(x), Station: station.Draw(t, "at"), From: station.Draw(t, "from"), To: station.Draw(t, "to")})
		}
		out, _, err := readings.Run(context.Background(), readings.Input{Trace: seen(bobbin(), 0.004, 0.02, 0.02), Readings: all})
		if err != nil {
			t.Fatal(err)
		}
		if trouble, at := out.Trace.Outline.Trouble(); trouble != "" {
			t.Fatalf("%s at %v", trouble, at)
		}
		for _, p := range out.Trace.Profile {
			if math.IsNaN(p.Radius.X) || math.IsNaN(p.Radius.U) || p.Radius.U > 1 || math.IsNaN(p.Station) {
				t.Fatalf("at %v: %v", p.Station, p.Radius)
			}
		}
	})
}

// A typed outline known to 5 mm, whose first shoulder is read behind its second.
func TestReadingsThatDoNotJoin(t *testing.T) {
	trace := model.Trace{Outline: model.Lines(0, 15, 30, 15, 30, 21, 33, 21, 33, 12, 90, 12), Length: unit.Estimate(90, 5)}
	for s := 0.0; s <= 90; s++ {
		trace.Profile = append(trace.Profile, model.TracePoint{Station: s, Radius: unit.Estimate(trace.Outline.RadiusAt(s), 5)})
	}
	out, found := run(t, trace, read(readings.Length, "37 ref", 37, 0.05, 0, 30))
	if len(found) != 1 || found[0].Code != "readings-not-joined" || out.Count != 0 || out.Taken[0].Used {
		t.Errorf("%v, %+v", found, out.Taken)
	}
	if d := cmp.Diff(trace, out.Trace); d != "" {
		t.Errorf("the trace changed: %s", d)
	}
}
