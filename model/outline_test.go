package model_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"scalewright/model"
	"scalewright/unit"
)

func arc(from, to, centre model.Point, r float64) model.Outline {
	return model.Outline{{Kind: model.Arc, From: from, To: to, Centre: centre, R: r}}
}

func ExampleOutline_RadiusAt() {
	o := model.Lines(0, 9, 14, 9, 14, 16, 30, 20)
	fmt.Println(o.RadiusAt(7), o.RadiusAt(14), o.RadiusAt(22), o.RadiusAt(31))
	// Output: 9 16 18 0
}

func TestArcs(t *testing.T) {
	quarter := arc(model.Point{Radius: 10}, model.Point{Station: 10}, model.Point{}, 10)
	hollow := arc(model.Point{}, model.Point{Station: 10, Radius: 10}, model.Point{Radius: 10}, 10)
	for z := 0.0; z <= 10; z++ {
		// x² + y² = r²
		if got, want := quarter.RadiusAt(z), math.Sqrt(100-z*z); math.Abs(got-want) > 1e-12 {
			t.Errorf("quarter at %v: %v, want %v", z, got, want)
		}
		if got, want := hollow.RadiusAt(z), 10-math.Sqrt(100-z*z); math.Abs(got-want) > 1e-12 {
			t.Errorf("hollow at %v: %v, want %v", z, got, want)
		}
	}
	const sag = 0.01
	line := quarter.Polyline(sag)
	for i := 1; i < len(line); i++ {
		z, r := (line[i-1].Station+line[i].Station)/2, (line[i-1].Radius+line[i].Radius)/2
		if off := 10 - math.Hypot(z, r); off < -1e-12 || off > sag+1e-12 {
			t.Errorf("chord %d lies %v inside its arc", i, off)
		}
	}
	if got := quarter.MaxRadius(); got != 10 {
		t.Errorf("largest radius %v, want 10", got)
	}
}

func TestTrouble(t *testing.T) {
	for _, c := range []struct {
		name string
		o    model.Outline
		want model.Trouble
	}{
		{"nothing", nil, model.TooShort},
		{"a step alone", model.Lines(5, 1, 5, 9), model.TooShort},
		{"on the axis", model.Lines(0, 0, 60, 0), model.NoWidth},
		{"crossing itself", model.Lines(0, 9, 60, 9, 20, 14, 20, 4), model.Crosses},
		{"running back", model.Lines(0, 9, 60, 9, 50, 12, 80, 12), model.RunsBack},
		{"below the axis", model.Lines(0, 9, 60, -9), model.BelowAxis},
		{"arc off its circle", arc(model.Point{Radius: 10}, model.Point{Station: 9}, model.Point{}, 10), model.BadArc},
		{"arc of no radius", arc(model.Point{Radius: 10}, model.Point{Station: 10}, model.Point{}, 0), model.BadArc},
		{"sound", model.Lines(0, 0, 0, 9, 14, 9, 14, 16, 30, 0), ""},
		{"a sound arc", arc(model.Point{Radius: 10}, model.Point{Station: 10}, model.Point{}, 10), ""},
	} {
		if got, _ := c.o.Trouble(); got != c.want {
			t.Errorf("Trouble(%s) = %q, want %q", c.name, got, c.want)
		}
	}
}

func TestBetweenSharesTheFaceAndNotTheMaterial(t *testing.T) {
	o := model.Lines(0, 9, 14, 9, 14, 16, 30, 16)
	below, above := o.Between(0, 14), o.Between(14, 30)
	if len(below) != 1 || len(above) != 1 || below.MaxRadius() != 9 || above.MaxRadius() != 16 {
		t.Errorf("below %v, above %v", below, above)
	}
	if got := o.Between(40, 50); got != nil {
		t.Errorf("off the body: %v", got)
	}
}

func genOutline(t *rapid.T) model.Outline {
	at := model.Point{Radius: float64(rapid.IntRange(0, 40).Draw(t, "r"))}
	var o model.Outline
	for i := range rapid.IntRange(1, 8).Draw(t, "n") {
		to := model.Point{Station: at.Station + float64(rapid.IntRange(0, 20).Draw(t, "run")), Radius: float64(rapid.IntRange(0, 40).Draw(t, "r"))}
		if i == 0 {
			to.Station++
		}
		o = append(o, model.Segment{Kind: model.Line, From: at, To: to})
		at = to
	}
	return o
}

func TestOutlineLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := genOutline(t)
		k := float64(rapid.IntRange(1, 32).Draw(t, "k")) / 4
		z := o.Start() + (o.End()-o.Start())*rapid.Float64Range(0, 1).Draw(t, "z")
		if got, want := o.Scaled(k).RadiusAt(z*k), k*o.RadiusAt(z); math.Abs(got-want) > 1e-6*max(1, want) {
			t.Errorf("scaled by %v: radius %v at %v, want %v", k, got, z*k, want)
		}
		if z > o.Start() && z < o.End() {
			below, above := o.Between(o.Start(), z), o.Between(z, o.End())
			if below.End() != z || above.Start() != z {
				t.Errorf("cut at %v ends at %v and begins at %v", z, below.End(), above.Start())
			}
			if got := max(below.MaxRadius(), above.MaxRadius()); got > o.MaxRadius() {
				t.Errorf("a half is wider than the whole: %v, %v", got, o.MaxRadius())
			}
		}
		line := o.Polyline(0.01)
		low, high := model.LowestBetween(line, o.Start(), z), model.HighestBetween(line, o.Start(), z)
		if low > high && z > o.Start() {
			t.Errorf("to %v: lowest %v above highest %v", z, low, high)
		}
	})
}

func TestZeroValuesWork(t *testing.T) {
	var o model.Outline
	if o.Polyline(0.01) != nil || o.RadiusAt(0) != 0 || o.MaxRadius() != 0 || o.Between(0, 1) != nil || len(o.Scaled(2)) != 0 {
		t.Error("the zero outline is not empty")
	}
	if !(model.Axis{}).IsBuild() {
		t.Error("the zero axis is not the build's")
	}
	var d model.Division
	if _, ok := d.Piece(model.PieceID{}); ok {
		t.Error("the zero division has a piece")
	}
	if (model.Fits{}).Of("") != nil {
		t.Error("the zero fits have fits")
	}
	var s model.Shop
	if _, ok := s.Printer(""); ok {
		t.Error("the zero shop has a printer")
	}
	if _, ok := s.Filament(""); ok {
		t.Error("the zero shop has a filament")
	}
	if station, u := (model.Trace{}).WorstDoubt(); station != 0 || u != 0 {
		t.Error("the zero trace has a doubt")
	}
	if s := (model.Span{From: 3, To: 8}); s.Length() != 5 || !s.Holds(3) || !s.Holds(8) || s.Holds(8.1) {
		t.Errorf("%v", s)
	}
}

// An id reads one way only: ids of makers hold no full stop, and no cut is
// called collar or ring.
func TestPieceIDsAreTheirOwn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		id := func(label string) model.PieceID {
			name := rapid.StringMatching(`[a-z][a-z0-9-]{0,3}`)
			p := model.PieceID{
				Kind: rapid.SampledFrom([]model.PieceKind{model.Shell, model.CollarRing, model.CoreRing}).Draw(t, label+" kind"),
				Part: name.Draw(t, label+" part"), From: name.Draw(t, label+" from"),
			}
			if p.Kind == model.Shell {
				p.To = name.Filter(func(s string) bool { return s != string(model.CollarRing) && s != string(model.CoreRing) }).Draw(t, label+" to")
			}
			return p
		}
		a, b := id("a"), id("b")
		if a.String() == b.String() && a != b {
			t.Errorf("%+v and %+v are both %s", a, b, a)
		}
	})
}

func profile(radius, u float64, stations ...float64) []model.TracePoint {
	var out []model.TracePoint
	for _, s := range stations {
		out = append(out, model.TracePoint{Station: s, Radius: unit.Estimate(radius, u)})
	}
	return out
}

// A radius' doubt moves a cone's surface by its cosine.
func TestDoubtIsSquareToTheSurface(t *testing.T) {
	var cone model.Trace
	for s := range 9 {
		cone.Profile = append(cone.Profile, model.TracePoint{Station: float64(s), Radius: unit.Estimate(float64(s)*3/4, 0.1)})
	}
	if _, u := cone.WorstDoubt(); math.Abs(u-0.08) > 1e-12 {
		t.Errorf("doubt of a slope of 3 in 4 = %v, want 4/5 of 0.1", u)
	}
}

func TestResolveMultipliesOnlyTheReference(t *testing.T) {
	d := model.Declared{
		Name: "peg", Core: &model.DeclaredCore{Stock: "drain-110", From: unit.Ref(2), To: unit.Shop(50), Hold: model.Bored},
		Parts: []model.DeclaredPart{
			{ID: "a", From: unit.Ref(0), To: unit.Ref(10), Wall: unit.Shop(3)},
			{ID: "b", From: unit.Ref(10), To: unit.Ref(30), Wall: unit.Ref(1), Open: []string{model.Nose}, Settled: true, Filament: "red"},
		},
		Joints: []model.DeclaredJoint{{Between: [2]string{"b", "a"}, Kind: model.Collar, Removable: true, Glue: "ca"}},
		Cuts:   []model.DeclaredCut{{ID: "c2", Part: "b", Station: unit.Ref(20)}, {ID: "c1", Part: "b", Station: unit.Shop(45)}},
		Shop:   model.Shop{Filaments: []model.Filament{{ID: "white"}}},
	}
	trace := model.Trace{
		Outline: model.Lines(0, 9, 10, 9, 10, 12, 30, 12), Length: unit.Estimate(30, 0.1),
		Profile: slices.Concat(profile(9, 0.02, 5, 6, 7, 8), profile(12, 0.05, 20, 21, 22, 23)),
	}
	// One bad reading among good ones does not count.
	trace.Profile[1].Radius.U = 3
	got := model.Resolve(d, trace, nil, 4)
	if got.Length.X != 120 || math.Abs(got.Length.U-0.4) > 1e-12 || got.Error.Station != 84 || math.Abs(float64(got.Error.U)-0.2) > 1e-12 {
		t.Errorf("length %v, largest doubt %v", got.Length, got.Error)
	}
	a, b := got.Parts[0], got.Parts[1]
	if a.Span != (model.Span{From: 0, To: 40}) || a.Wall != 3 || a.State != model.Open || a.Filament != "white" {
		t.Errorf("part a = %+v", a)
	}
	if b.Span != (model.Span{From: 40, To: 120}) || b.Wall != 4 || !b.OpenNose || b.OpenFoot || b.State != model.Settled || b.Filament != "red" || b.Outline.MaxRadius() != 48 {
		t.Errorf("part b = %+v", b)
	}
	if got.Core.Span != (model.Span{From: 8, To: 50}) || got.Core.Stock.OD != 110 {
		t.Errorf("core = %+v", got.Core)
	}
	if f := got.Interfaces; len(f) != 1 || f[0].ID != "a-b" || f[0].Kind != model.Collar || !f[0].Removable || f[0].Glue != "ca" || f[0].Station != 40 {
		t.Errorf("interfaces = %+v", f)
	}
	if c := got.Cuts; len(c) != 2 || c[0].ID != "c1" || c[0].Station != 45 || c[1].Station != 80 {
		t.Errorf("cuts = %+v", c)
	}
}

// Ends that were written within a millimetre of a corner of the reference mean
// the corner.
func TestEndsLieOnCorners(t *testing.T) {
	d := model.Declared{Parts: []model.DeclaredPart{{ID: "a", From: unit.Ref(0.4), To: unit.Ref(9.2)}, {ID: "b", From: unit.Ref(9.2), To: unit.Ref(15)}}}
	got := model.Resolve(d, model.Trace{Outline: model.Lines(0, 9, 10, 9, 10, 12, 30, 12)}, nil, 4)
	if got.Parts[0].Span != (model.Span{From: 0, To: 40}) || got.Parts[1].Span != (model.Span{From: 40, To: 60}) {
		t.Errorf("spans %v, %v", got.Parts[0].Span, got.Parts[1].Span)
	}
}
