package truing_test

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
	"scalewright/stage/truing"
	"scalewright/unit"
)

// seen is a trace as a photograph gives it: noise of each station, and a scale and a
// height that all share.
func seen(o model.Outline, noise, scale, height float64) model.Trace {
	t := model.Trace{Outline: o, Length: unit.Estimate(o.End(), noise, unit.Source{Name: "scale", U: scale * o.End()})}
	for s := 0.0; s <= o.End(); s += 0.5 {
		r := o.RadiusAt(s)
		t.Profile = append(t.Profile, model.TracePoint{Station: s, Radius: unit.Estimate(r, noise, unit.Source{Name: "scale", U: scale * r}, unit.Source{Name: "height", U: height})})
	}
	return t
}

func run(t *testing.T, in truing.Input) (truing.Result, finding.List) {
	t.Helper()
	out, found, err := truing.Run(t.Context(), in)
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

func hold(is model.Truth, at float64, to ...float64) model.DeclaredTruth {
	d := model.DeclaredTruth{At: finding.Place{File: "build.yaml", Path: "reference.trued.segments.0"}, Station: unit.Ref(at), Is: is}
	if is == model.Equal {
		d.To = unit.Ref(to[0])
	} else if len(to) > 0 {
		d.Across = unit.Ref(to[0])
	}
	return d
}

func ExampleRun() {
	o := model.Lines(0, 10.02, 40, 9.98, 40, 15, 60, 15)
	out, found, err := truing.Run(context.Background(), truing.Input{
		Trace: seen(o, 0.02, 0.002, 0.02), Ratio: 6,
		True: model.DeclaredTrue{Segments: []model.DeclaredTruth{{Station: unit.Ref(20), Is: model.Parallel}}},
	})
	fmt.Printf("%.2f to %.2f, up to %.2f mm at full size; %d, %v\n", out.Trace.Outline[0].From.Radius, out.Trace.Outline[0].To.Radius, out.Most, len(found), err)
	// Output: 10.00 to 10.00, up to 0.12 mm at full size; 1, <nil>
}

// Nothing declared: the trace is what it was, to the bit.
func TestNothingDeclared(t *testing.T) {
	trace := seen(model.Lines(0, 10.02, 40, 9.98, 40, 15, 60, 15), 0.02, 0.002, 0.02)
	out, found := run(t, truing.Input{Trace: trace, Ratio: 6})
	if d := cmp.Diff(trace, out.Trace); d != "" || len(found) > 0 || out.Most != 0 {
		t.Errorf("%v %s", found, d)
	}
	for _, empty := range []model.Trace{{}, {Outline: model.Lines(0, 0, 60, 0)}, {Outline: model.Lines(0, 5, 60, 5)}} {
		run(t, truing.Input{Trace: empty, Ratio: 6})
		run(t, truing.Input{Trace: empty, True: model.DeclaredTrue{Symmetric: true, Crisp: unit.Ref(1), Segments: []model.DeclaredTruth{hold(model.Parallel, 20)}}})
	}
}

func TestTruths(t *testing.T) {
	bobbin := model.Lines(0, 10.05, 20, 9.95, 20.1, 16, 40, 15.4, 40, 8, 60, 8.02, 60, 10.1, 80, 10.02)
	for _, c := range []struct {
		name string
		of   []model.DeclaredTruth
		want map[float64]float64 // radius at stations
	}{
		{"parallel", []model.DeclaredTruth{hold(model.Parallel, 10)}, map[float64]float64{1: 10, 19: 10, 30: 15.701}},
		{"of a diameter said", []model.DeclaredTruth{hold(model.Parallel, 10, 20.2)}, map[float64]float64{1: 10.1, 19: 10.1}},
		{"draft off", []model.DeclaredTruth{hold(model.NoDraft, 30)}, map[float64]float64{22: 15.7, 39: 15.7}},
		{"equal, by the mean", []model.DeclaredTruth{hold(model.Equal, 10, 70)}, map[float64]float64{5: 10.03, 75: 10.03}},
		{"square", []model.DeclaredTruth{hold(model.SquareTo, 20)}, map[float64]float64{20.04: 9.95, 20.06: 16.0012}},
		{"as measured", []model.DeclaredTruth{hold(model.AsIs, 10)}, map[float64]float64{1: 10.045}},
	} {
		out, _ := run(t, truing.Input{Trace: seen(bobbin, 0.02, 0.002, 0.02), Ratio: 5, True: model.DeclaredTrue{Segments: c.of}})
		for station, radius := range c.want {
			if r := out.Trace.Outline.RadiusAt(station); math.Abs(r-radius) > 2e-3 {
				t.Errorf("%s: radius %v at %v, want %v", c.name, r, station, radius)
			}
		}
		if d := cmp.Diff(bobbin, out.Measured); d != "" {
			t.Errorf("%s: as measured %s", c.name, d)
		}
	}
}

// An arc held tangent to its cylinder: the distance of its centre from the line is its
// radius, as for any circle and its tangent (Euclid III.18).
func TestTangent(t *testing.T) {
	o := model.Outline{
		{Kind: model.Line, From: model.Point{Radius: 12}, To: model.Point{Station: 40, Radius: 12}},
		{Kind: model.Arc, From: model.Point{Station: 40, Radius: 12}, To: model.Point{Station: 59.70, Radius: 3.473}, Centre: model.Point{Station: 41, Radius: -7.975}, R: 20},
	}
	o[1].To.Radius = o[1].Centre.Radius + math.Sqrt(400-(59.7-41)*(59.7-41))
	if o[1].To.Radius < 0 {
		o[1].To = model.Point{Station: 58, Radius: o[1].Centre.Radius + math.Sqrt(400-17*17)}
	}
	out, _ := run(t, truing.Input{Trace: seen(o, 0.02, 0.002, 0.02), Ratio: 6, True: model.DeclaredTrue{Segments: []model.DeclaredTruth{hold(model.Tangent, 50)}}})
	arc := out.Trace.Outline[1]
	if off := 12 - arc.Centre.Radius - arc.R; math.Abs(off) > 0.01 || math.Abs(arc.From.Station-41) > 1 {
		t.Errorf("arc %+v, off by %v", arc, off)
	}
}

// Soft edges become corners; a chamfer or a radius of the shop has its size at full
// size, whatever the ratio.
func TestCrisp(t *testing.T) {
	// A cylinder whose far rim is rounded by 1 mm, with a shoulder chamfered by 0.8.
	o := append(model.Lines(0, 10, 30, 10, 30, 15.2, 30.8, 16, 59, 16), model.Segment{
		Kind: model.Arc, From: model.Point{Station: 59, Radius: 16}, To: model.Point{Station: 60, Radius: 15}, Centre: model.Point{Station: 59, Radius: 15}, R: 1,
	})
	trace := seen(o, 0.02, 0.002, 0.02)
	out, found := run(t, truing.Input{Trace: trace, Ratio: 6, True: model.DeclaredTrue{Crisp: unit.Ref(1.2)}})
	want := model.Lines(0, 10, 30, 10, 30, 16, 60, 16)
	if d := cmp.Diff(want, out.Trace.Outline); d != "" || len(found) != 1 || found[0].Code != "trued" || len(out.Edges) != 2 {
		t.Errorf("sharp: %v, %v %s", found, out.Edges, d)
	}
	// Between a corner and the chamfer of 0.8 that it was: 0.8/√2; and (√2-1)·1 of the arc.
	if most := 6 * 0.8 / math.Sqrt2; math.Abs(float64(out.Most)-most) > 0.02 {
		t.Errorf("largest difference %v, want %v", out.Most, most)
	}
	for _, ratio := range []float64{3, 6} {
		out, _ = run(t, truing.Input{Trace: trace, Ratio: ratio, True: model.DeclaredTrue{Crisp: unit.Ref(1.2), Edge: unit.Shop(1.5)}})
		n := 0
		for _, s := range out.Trace.Outline {
			if s.Kind == model.Arc {
				n++
				if math.Abs(s.R*ratio-1.5) > 1e-6 {
					t.Errorf("an edge of %v at full size, want 1.5", s.R*ratio)
				}
			}
		}
		if trouble, _ := out.Trace.Outline.Trouble(); n != 2 || trouble != "" {
			t.Errorf("%d rounded edges, %s: %v", n, trouble, out.Trace.Outline)
		}
	}
	out, _ = run(t, truing.Input{Trace: trace, Ratio: 6, True: model.DeclaredTrue{Crisp: unit.Ref(1.2), Edge: unit.Shop(3), Chamfered: true}})
	if d := cmp.Diff(model.Lines(0, 10, 30, 10, 30, 15.5, 30.5, 16, 59.5, 16, 60, 15.5), out.Trace.Outline); d != "" {
		t.Errorf("chamfered %s", d)
	}
	// One edge is said to stay.
	out, _ = run(t, truing.Input{Trace: trace, Ratio: 6, True: model.DeclaredTrue{Crisp: unit.Ref(1.2), Segments: []model.DeclaredTruth{hold(model.AsIs, 30.4)}}})
	if len(out.Edges) != 1 || len(out.Trace.Outline) != 4 {
		t.Errorf("with one kept: %v", out.Edges)
	}
	// An edge of the shop larger than its neighbours bear stays soft.
	_, found = run(t, truing.Input{Trace: trace, Ratio: 6, True: model.DeclaredTrue{Crisp: unit.Ref(1.2), Edge: unit.Shop(60)}})
	if len(found) != 2 || found[0].Code != "edge-stays" {
		t.Errorf("too large an edge: %v", found)
	}
}

func TestFindings(t *testing.T) {
	rocket := model.Lines(0, 9, 14, 6, 14, 20, 60, 21, 90, 21, 120, 10)
	for _, c := range []struct {
		code finding.Code
		o    model.Outline
		d    model.DeclaredTrue
	}{
		{"trued-nothing", rocket, model.DeclaredTrue{Segments: []model.DeclaredTruth{hold(model.Tangent, 75)}}},
		{"trued-nothing", rocket, model.DeclaredTrue{Segments: []model.DeclaredTruth{hold(model.Parallel, 300)}}},
		{"trued-past-doubt", rocket, model.DeclaredTrue{Segments: []model.DeclaredTruth{hold(model.Parallel, 105)}}},
		{"trued-past-doubt", rocket, model.DeclaredTrue{Segments: []model.DeclaredTruth{hold(model.Parallel, 75, 43)}}},
		{"trued-past-doubt", rocket, model.DeclaredTrue{Segments: []model.DeclaredTruth{hold(model.Equal, 75, 7)}}},
		{"trued-not-alike", rocket, model.DeclaredTrue{Symmetric: true}},
		{"trued-lopsided", model.Lines(0, 9, 30, 9, 30, 14, 60, 14, 60, 10, 90, 10), model.DeclaredTrue{Symmetric: true}},
		{"trued-not-joined", model.Lines(0, 10, 20, 10.2, 21, 12, 22, 10.2, 40, 10), model.DeclaredTrue{Segments: []model.DeclaredTruth{hold(model.Parallel, 30, 25)}}},
	} {
		_, found := run(t, truing.Input{Trace: seen(c.o, 0.02, 0.002, 0.02), Ratio: 6, True: c.d})
		has := false
		for _, f := range found {
			has = has || f.Code == c.code
		}
		if !has {
			t.Errorf("%v, want %s", found, c.code)
		}
	}
}

// A body alike at both ends, measured a little crooked, is made so.
func TestSymmetric(t *testing.T) {
	o := model.Lines(0, 8.03, 20, 8.01, 20.1, 14, 49.95, 14.03, 50, 7.98, 70, 8)
	out, found := run(t, truing.Input{Trace: seen(o, 0.03, 0.002, 0.02), Ratio: 6, True: model.DeclaredTrue{Symmetric: true}})
	if len(found) != 1 || found[0].Code != "trued" {
		t.Errorf("%v", found)
	}
	for s := 0.5; s < 35; s++ {
		if a, b := out.Trace.Outline.RadiusAt(s), out.Trace.Outline.RadiusAt(70-s); math.Abs(a-b) > 1e-9 {
			t.Errorf("radius %v at %v, %v at %v", a, s, b, 70-s)
		}
	}
}

func found(all []truing.Hold, truth model.Truth) (n int) {
	for _, h := range all {
		if h.Truth == truth {
			n++
		}
	}
	return n
}

// What is true is kept about nineteen times in twenty; a cone of 1° is never called
// parallel, and where a slope is unknown to 5° nothing is.
func TestHoldsAtTheirLevel(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	const runs, noise = 300, 0.02
	kept, cone := 0, 0
	for range runs {
		// The outline is the line through its stations: as unsure as their sums say.
		var sx, sxx, sy, sxy, n float64
		for s := 0.75; s <= 39.25; s += 0.5 {
			// Neighbours in threes: one station in three brings news.
			y := noise * math.Sqrt(3) * rng.NormFloat64()
			sx, sxx, sy, sxy, n = sx+s, sxx+s*s, sy+y, sxy+s*y, n+1
		}
		m := (n*sxy - sx*sy) / (n*sxx - sx*sx)
		for tilt, count := range map[float64]*int{0: &kept, math.Pi / 180: &cone} {
			k := m + math.Tan(tilt)
			out, _ := run(t, truing.Input{Trace: seen(model.Lines(0, 12-20*k, 40, 12+20*k, 40, 18, 60, 18), noise, 0.003, 0.03), Ratio: 6})
			for _, h := range out.Holds {
				if h.Truth == model.Parallel && h.Station < 40 {
					*count++
				}
			}
		}
	}
	if share := float64(kept) / runs; share < 0.91 || share > 0.985 || cone > 0 {
		t.Errorf("kept %.3f of what is true, %d cones", share, cone)
	}
	out, _ := run(t, truing.Input{Trace: seen(model.Lines(0, 12, 4, 12.02, 4, 18, 60, 18.01), 0.3, 0, 0), Ratio: 6})
	for _, h := range out.Holds {
		if h.Station < 4 {
			t.Errorf("a line of 4 mm ± 0.3 is called %s", h.Truth)
		}
	}
}

// Two lines of 1.5° either way are a moulding's; the same body turned has none.
func TestDraftIsProposed(t *testing.T) {
	m := math.Tan(1.5 * math.Pi / 180)
	moulded := model.Lines(0, 12, 40, 12+40*m, 40, 20, 60, 20, 60, 12+40*m, 100, 12)
	out, _ := run(t, truing.Input{Trace: seen(moulded, 0.02, 0.002, 0.02), Ratio: 6})
	if n := found(out.Holds, model.NoDraft); n != 2 {
		t.Errorf("%d drafts: %+v", n, out.Holds)
	}
	out, _ = run(t, truing.Input{Trace: seen(model.Lines(0, 12, 40, 12+40*m, 40, 20, 60, 20, 60, 14, 100, 12), 0.02, 0.002, 0.02), Ratio: 6})
	if n := found(out.Holds, model.NoDraft); n != 0 {
		t.Errorf("%d drafts of 1.5° and 2.9°: %+v", n, out.Holds)
	}
}

// Two diameters of one photograph are told apart to less than either is known: what
// both share goes out.
func TestEqualLooksPastTheScale(t *testing.T) {
	// 0.1 apart in radius where scale and height leave ± 0.09.
	out, _ := run(t, truing.Input{Trace: seen(model.Lines(0, 15, 30, 15, 30, 20, 60, 20, 60, 15.1, 90, 15.1), 0.02, 0.005, 0.05), Ratio: 6})
	if n := found(out.Holds, model.Equal); n != 0 {
		t.Errorf("15 and 15.1 are called equal: %+v", out.Holds)
	}
	out, _ = run(t, truing.Input{Trace: seen(model.Lines(0, 15, 30, 15, 30, 20, 60, 20, 60, 15.006, 90, 15.006), 0.02, 0.005, 0.05), Ratio: 6})
	if n := found(out.Holds, model.Equal); n != 1 {
		t.Errorf("15 and 15.006: %+v", out.Holds)
	}
}

func TestRounds(t *testing.T) {
	for _, c := range []struct {
		across, u float64
		want      string
	}{
		{12.70, 0.05, "1/2 in"},
		{12.66, 0.05, "1/2 in"}, // 12.5 and 13 lie farther off
		{12.70, 0.5, ""},        // it looks like everything
		{19.05, 0.04, "3/4 in"},
		{28.575, 0.03, "1 1/8 in"},
		{40.02, 0.05, "40 mm"},
		{37.0, 0.05, ""}, // one in four does, by chance
		{37.0, 0.015, "37 mm"},
		{37.26, 0.015, ""},
	} {
		r := c.across / 2
		o := model.Lines(0, r, 30, r, 30, r+7.37, 60, r+7.37)
		trace := seen(o, 0, 0, c.u/2)
		out, _ := run(t, truing.Input{Trace: trace, Ratio: 6})
		got := ""
		for _, q := range out.Rounds {
			if q.What == "diameter" && q.Station < 30 {
				got = q.Reads
			}
		}
		if got != c.want {
			t.Errorf("%v ± %v looks like %q, want %q", c.across, c.u, got, c.want)
		}
	}
}

// Sizes that nobody chose look like round ones once in a while, not more.
func TestRoundsByChance(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	const runs = 400
	n := 0
	for range runs {
		r := 5 + 20*rng.Float64()
		out, _ := run(t, truing.Input{Trace: seen(model.Lines(0, r, 30, r), 0, 0, 0.03), Ratio: 6})
		for _, q := range out.Rounds {
			if q.What == "diameter" {
				n++
			}
		}
	}
	if share := float64(n) / runs; share > 0.15 {
		t.Errorf("%.2f of sizes drawn at random look round", share)
	}
}

// Whatever is declared, the outline can be turned.
func TestAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var flat []float64
		s := 0.0
		for range rapid.IntRange(2, 8).Draw(t, "points") {
			flat = append(flat, s, rapid.Float64Range(0.5, 25).Draw(t, "r"))
			s += rapid.SampledFrom([]float64{0, 0.3, 2, 15, 40}).Draw(t, "run")
		}
		o := model.Lines(flat...)
		if trouble, _ := o.Trouble(); trouble != "" {
			t.Skip("no outline")
		}
		d := model.DeclaredTrue{Symmetric: rapid.Bool().Draw(t, "symmetric"), Chamfered: rapid.Bool().Draw(t, "chamfered")}
		if rapid.Bool().Draw(t, "crisp") {
			d.Crisp = unit.Ref(rapid.Float64Range(0.1, 5).Draw(t, "under"))
		}
		if rapid.Bool().Draw(t, "edge") {
			d.Edge = unit.Shop(rapid.Float64Range(0.1, 20).Draw(t, "size"))
		}
		for range rapid.IntRange(0, 4).Draw(t, "truths") {
			is := rapid.SampledFrom([]model.Truth{model.Parallel, model.NoDraft, model.Equal, model.SquareTo, model.Tangent, model.AsIs}).Draw(t, "is")
			at := rapid.Float64Range(-1, s+1)
			d.Segments = append(d.Segments, hold(is, at.Draw(t, "at"), at.Draw(t, "to")))
		}
		out, _, err := truing.Run(context.Background(), truing.Input{Trace: seen(o, 0.02, 0.002, 0.02), Ratio: 6, True: d})
		if err != nil {
			t.Fatal(err)
		}
		if trouble, at := out.Trace.Outline.Trouble(); trouble != "" {
			t.Fatalf("%s at %v: %v", trouble, at, out.Trace.Outline)
		}
		for _, m := range out.Moved {
			if math.IsNaN(float64(m.By)) || math.IsNaN(m.Doubts) {
				t.Fatalf("%+v", m)
			}
		}
	})
}

// What was typed is never called round or parallel, readings taken in or not.
func TestTypedIsTakenAtItsWord(t *testing.T) {
	trace := model.Trace{Outline: model.Lines(0, 15, 30, 15.01, 30, 20, 60, 20), Length: unit.Estimate(60, 0.05)}
	for s := 0.0; s <= 60; s++ {
		trace.Profile = append(trace.Profile, model.TracePoint{Station: s, Radius: unit.Estimate(trace.Outline.RadiusAt(s), 0.01, unit.Source{Name: "outline: segment 1", U: 0.01})})
	}
	out, _ := run(t, truing.Input{Trace: trace, Ratio: 6})
	if len(out.Rounds) > 0 || found(out.Holds, model.Parallel) > 0 {
		t.Errorf("%+v, %+v", out.Holds, out.Rounds)
	}
}

// What is declared is not proposed again.
func TestDeclaredIsNotProposed(t *testing.T) {
	trace := seen(model.Lines(0, 15, 30, 15.001, 30, 20, 60, 20, 60, 15.006, 90, 15.005), 0.01, 0.0003, 0.003)
	out, _ := run(t, truing.Input{Trace: trace, Ratio: 6})
	if found(out.Holds, model.Parallel) == 0 || found(out.Holds, model.Equal) == 0 || len(out.Rounds) == 0 {
		t.Fatalf("%+v, %+v", out.Holds, out.Rounds)
	}
	out, _ = run(t, truing.Input{Trace: trace, Ratio: 6, True: model.DeclaredTrue{Symmetric: true, Segments: []model.DeclaredTruth{
		hold(model.Parallel, 15, 30), hold(model.Parallel, 45, 40), hold(model.Parallel, 75, 30), hold(model.Equal, 15, 75),
	}}})
	if len(out.Holds) > 0 {
		t.Errorf("held and proposed again: %+v", out.Holds)
	}
	for _, q := range out.Rounds {
		if q.What == "diameter" {
			t.Errorf("sized and proposed again: %+v", q)
		}
	}
}
