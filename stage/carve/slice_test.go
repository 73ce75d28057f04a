package carve_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/model"
	"scalewright/solid"
	"scalewright/stage/carve"
	"scalewright/stock"
	"scalewright/unit"
)

// post is a square mesh of 100 by 100, 300 high, hollow behind 10 mm or not.
func post(t testing.TB, hollow bool) carve.Input {
	t.Helper()
	box := func(half, from, to float64) solid.Mesh {
		m, err := solid.Box(solid.Vec{-half, -half, from}, solid.Vec{half, half, to})
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	in := carve.Input{
		Piece: model.Piece{
			ID: model.PieceID{Kind: model.Slice, Part: "a", From: "foot", To: "nose"}, Name: "a", Own: true,
			Span: model.Span{To: 300}, Direction: model.FootDown,
		},
		Part: model.Part{ID: "a", Own: true, Form: model.Imported, Wall: 10},
		Raw: model.Raw{Part: "a", Solid: box(50, 0, 300), Line: model.OwnLine{
			Direction: solid.Vec{0, 0, 1}, Span: model.Span{To: 300},
		}},
	}
	if hollow {
		m, err := solid.Kernel{}.Subtract(t.Context(), in.Raw.Solid, box(40, 10, 290))
		if err != nil {
			t.Fatal(err)
		}
		in.Raw.Filled, in.Raw.Solid = in.Raw.Solid, m
	}
	return in
}

// onDowel runs a core of 20 mm up the post, bored 21.
func onDowel(in carve.Input, from, to unit.Length) carve.Input {
	in.Core = &model.Core{Stock: stock.Pipe{OD: 20, Wall: 10}, Span: model.Span{From: from, To: to}}
	in.OnCore = &model.Fit{Bore: model.Size{Nominal: 21}}
	in.Segments = flats
	return in
}

func cutAt(in carve.Input, from, to unit.Length, down model.Direction) carve.Input {
	in.Piece.Span, in.Piece.Direction = model.Span{From: from, To: to}, down
	return in
}

// rod is what flats round a circle of a radius hold, a mm of length.
func rod(radius float64) float64 {
	r := radius * solid.FacetScale(flats)
	return flats / 2.0 * r * r * math.Sin(2*math.Pi/flats)
}

// What a slice holds, in closed form: boxes and prisms of 96 sides.
func TestSliceVolumes(t *testing.T) {
	const full, cavity = 100.0 * 100, 80.0 * 80
	bore := rod(10.5)
	// The sleeve is a wall of 10 mm round the flats of the bore.
	r := 10.5*solid.FacetScale(flats) + 10
	tube := flats/2.0*r*r*math.Sin(2*math.Pi/flats) - bore
	for name, c := range map[string]struct {
		in   carve.Input
		want float64
	}{
		"whole":             {post(t, false), full * 300},
		"between cuts":      {cutAt(post(t, false), 50, 170, model.FootDown), full * 120},
		"bored right up":    {onDowel(post(t, false), 0, 300), (full - bore) * 300},
		"bored half way up": {onDowel(post(t, false), 0, 150), full*300 - bore*150.5},
		"hollow":            {post(t, true), full*300 - cavity*280},
		// Foot, walls, and a sleeve that ends a wall past the bore's end, its end closed.
		"hollow on a dowel": {onDowel(post(t, true), 0, 150), full*300 - cavity*280 - bore*10 + tube*140.5 + (tube+bore)*10},
		// It stands on its lower cut: a floor there, which the bore goes through, and the
		// sleeve on it.
		"hollow between cuts": {
			cutAt(onDowel(post(t, true), 0, 300), 100, 200, model.FootDown),
			(full-cavity)*90 + (full-bore)*10 + tube*90,
		},
		"the same, nose down": {
			cutAt(onDowel(post(t, true), 0, 300), 100, 200, model.NoseDown),
			(full-cavity)*90 + (full-bore)*10 + tube*90,
		},
	} {
		out := mustCarve(t, c.in)
		if math.Abs(out.Volume-c.want) > 1e-6*c.want {
			t.Errorf("%s: %v mm³, want %v", name, out.Volume, c.want)
		}
		if err := out.Solid.Solid(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A frame moves a slice and changes nothing of it: volume, and where its middle
// lies.
func TestSliceGoesToItsPlace(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		in := cutAt(post(t, false), 50, 150, model.FootDown)
		d := solid.Vec{rapid.Float64Range(-1, 1).Draw(rt, "x"), rapid.Float64Range(-1, 1).Draw(rt, "y"), rapid.Float64Range(-1, 1).Draw(rt, "z")}
		if d.Length() < 0.1 {
			return
		}
		in.Part.Axis = model.Axis{Position: [3]unit.Length{30, -20, 10}, Direction: [3]float64(d.Unit()), Clocking: 0.7}
		out := mustCarve(t, in)
		want := solid.Vec{30, -20, 10}.Add(d.Unit().Scale(100))
		if off := out.Solid.Centroid().Sub(want).Length(); off > 1e-6 || math.Abs(out.Volume-1e6) > 1e-3 {
			rt.Errorf("axis %v: %v off, %v mm³", d, off, out.Volume)
		}
	})
}

// Two towers on nothing, and a fork that a cut parts.
func TestNotOneSlice(t *testing.T) {
	in := post(t, false)
	tower, err := solid.Box(solid.Vec{200, 0, 0}, solid.Vec{210, 10, 300})
	if err != nil {
		t.Fatal(err)
	}
	in.Raw.Solid = solid.Join(in.Raw.Solid, tower)
	_, found, err := carve.Run(t.Context(), in)
	if err != nil || len(found) != 1 || found[0].Code != "not-one-slice" {
		t.Errorf("two towers: found %v, %v", found, err)
	}
	// A core as wide as the post leaves its four edges.
	thick := onDowel(post(t, false), 0, 300)
	thick.OnCore.Bore.Nominal = 110
	if _, found, err = carve.Run(t.Context(), thick); err != nil || len(found) != 1 || found[0].Code != "bore-parts-slice" {
		t.Errorf("a core of 110 mm in 100: found %v, %v", found, err)
	}
	// A sleeve that begins in the air of a cavity, away from the axis' own ends.
	air := onDowel(post(t, true), 100, 200)
	air.Part.Axis.Direction = [3]float64{0, 0, -1}
	air.Part.Axis.Position[2] = 300
	if _, found, err = carve.Run(t.Context(), air); err != nil || len(found) != 0 {
		t.Errorf("upside down: found %v, %v", found, err)
	}
}

// A bush bored along an axis of its own, and a solid knob: what Pappus gives, and
// in their places.
func TestOwnAxisIsTurnedAndMoved(t *testing.T) {
	in := shell()
	in.Piece.Own, in.Part.Own = true, true
	in.Part.Wall, in.Part.Bore = 0, 40
	in.Raw.FootDown, in.Raw.NoseDown = nil, nil
	in.Part.Axis = model.Axis{Position: [3]unit.Length{10, 20, 30}, Direction: [3]float64{0, 1, 0}}
	in.Core = &model.Core{Stock: stock.Pipe{OD: 20, Wall: 10}, Span: model.Span{To: 300}, Hold: model.Bored} // of the body; not here
	out := mustCarve(t, in)
	outer := flats / 2.0 * 50 * 50 * math.Sin(2*math.Pi/flats)
	if want := (outer - rod(20)) * 100; math.Abs(out.Volume-want) > 1e-6*want {
		t.Errorf("a bush holds %v, want %v", out.Volume, want)
	}
	if off := out.Solid.Centroid().Sub(solid.Vec{10, 20 + 150, 30}).Length(); off > 1e-6 {
		t.Errorf("it lies %v from its place", off)
	}
	if out.Reach != (model.Span{From: 100, To: 200}) {
		t.Errorf("it reaches %v on its own axis", out.Reach)
	}
}

// A board that lies across a core is bored for it, in its place.
func TestBoardOnACore(t *testing.T) {
	board, err := solid.Prism(solid.Region{Outer: []solid.Point{{-40, -30}, {60, -30}, {60, 50}, {-40, 50}}}, 0, 12)
	if err != nil {
		t.Fatal(err)
	}
	in := onDowel(carve.Input{
		Piece: model.Piece{ID: model.PieceID{Kind: model.Slice, Part: "a", From: "foot", To: "nose"}, Own: true, Direction: model.Lying, Span: model.Span{To: 100}},
		Part:  model.Part{ID: "a", Own: true, Form: model.Flat, Span: model.Span{From: 200, To: 212}, Plate: model.Plate{Lie: model.Across, Thick: 12}},
		Raw:   model.Raw{Part: "a", Solid: board, Line: model.OwnLine{Direction: solid.Vec{1, 0, 0}, Zero: -40, Span: model.Span{To: 100}}},
	}, 100, 300)
	out := mustCarve(t, in)
	if want := (100*80 - rod(10.5)) * 12; math.Abs(out.Volume-want) > 1e-6*want {
		t.Errorf("it holds %v, want %v", out.Volume, want)
	}
	if b := out.Solid.Bounds(); b.Min != (solid.Vec{-40, -30, 200}) || b.Max != (solid.Vec{60, 50, 212}) {
		t.Errorf("it lies at %v", b)
	}
}
