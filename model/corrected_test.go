package model_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/model"
)

// A cylinder, a cone and a cap of a sphere of 20 mm about station 60.
func capped() model.Outline {
	o := model.Lines(0, 20, 40, 20, 60, 12)
	o = append(o, model.Segment{
		Kind: model.Arc, From: model.Point{Station: 60, Radius: 12}, To: model.Point{Station: 68},
		Centre: model.Point{Station: 55}, R: 13,
	})
	return o
}

func TestCorrectionsAreKnownAgain(t *testing.T) {
	o := capped()
	for _, tt := range []struct {
		name string
		c    model.Correction
		want int
	}{
		{"corner", model.Correction{From: model.Point{Station: 39, Radius: 20.5}}, 1},
		{"first end", model.Correction{From: model.Point{Radius: 20}}, 0},
		{"last end", model.Correction{From: model.Point{Station: 68.5}}, 3},
		{"none near", model.Correction{From: model.Point{Station: 30, Radius: 20}}, -1},
		{"arc", model.Correction{Arc: true, From: o[2].Middle()}, 2},
		{"a line is no arc", model.Correction{Arc: true, From: o[0].Middle()}, -1},
	} {
		if got := o.Find(tt.c); got != tt.want {
			t.Errorf("Find(%s) = %d, want %d", tt.name, got, tt.want)
		}
	}
	if k := (model.Outline{}).Find(model.Correction{}); k != -1 {
		t.Errorf("of no outline: %d", k)
	}
}

// What is corrected stays joined; all else stays as it was; a cap stays a cap.
func TestCorrectedCorners(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := capped()
		k := rapid.IntRange(0, len(o)).Draw(t, "corner")
		to := model.Point{Station: rapid.Float64Range(-1, 1).Draw(t, "along"), Radius: rapid.Float64Range(0, 1).Draw(t, "out")}
		if k < len(o) {
			to = model.Point{Station: o[k].From.Station + to.Station, Radius: o[k].From.Radius + to.Radius}
		} else {
			to = model.Point{Station: 68 + to.Station}
		}
		got := o.Corrected(k, model.Correction{To: to})
		for i, s := range got {
			if i > 0 && got[i-1].To != s.From {
				t.Fatalf("%d does not begin where %d ends", i, i-1)
			}
			if i != k && i != k-1 && s != o[i] {
				t.Fatalf("segment %d changed, though corner %d was moved", i, k)
			}
			if i == 2 && (s.Kind != model.Arc || s.Centre.Radius != 0) {
				t.Fatalf("the cap became %+v", s)
			}
		}
		if trouble, at := got.Trouble(); trouble != "" {
			t.Fatalf("%s at %v", trouble, at)
		}
	})
}

// An arc that is no cap keeps its radius, and is a line where that does not reach.
func TestCorrectedRadius(t *testing.T) {
	flank := model.Outline{
		{Kind: model.Line, From: model.Point{Radius: 20}, To: model.Point{Station: 40, Radius: 20}},
		{Kind: model.Arc, From: model.Point{Station: 40, Radius: 20}, To: model.Point{Station: 80, Radius: 0}, Centre: model.Point{Station: 40, Radius: -20}, R: 40},
	}
	flank[1].To = model.Point{Station: 40 + math.Sqrt(1200), Radius: 0}
	s := flank.Corrected(1, model.Correction{To: model.Point{Station: 41, Radius: 20.5}})[1]
	for _, p := range []model.Point{s.From, s.To} {
		if d := math.Hypot(p.Station-s.Centre.Station, p.Radius-s.Centre.Radius); s.Kind != model.Arc || s.R != 40 || math.Abs(d-40) > 1e-9 {
			t.Errorf("%+v: %v from its centre", s, d)
		}
	}
	if s.Centre.Radius > 0 {
		t.Errorf("it bulges to the other side: %+v", s)
	}
	if s := flank.Corrected(1, model.Correction{To: model.Point{Station: -20, Radius: 60}})[1]; s.Kind != model.Line {
		t.Errorf("where the radius does not reach: %+v", s)
	}
}

// An arc bent by hand passes through the place and keeps its ends; bent straight it is
// a line.
func TestCorrectedArc(t *testing.T) {
	o := capped()
	for _, height := range []float64{-1.5, -0.5, 0.5, 2} {
		m := o[2].Middle()
		by := model.Point{Station: m.Station + 0.5*height, Radius: m.Radius + 0.5*height}
		s := o.Corrected(2, model.Correction{Arc: true, To: by})[2]
		off := math.Hypot(by.Station-s.Centre.Station, by.Radius-s.Centre.Radius) - s.R
		if s.Kind != model.Arc || math.Abs(off) > 1e-9 || s.From != o[2].From || s.To != o[2].To {
			t.Errorf("through %v: %+v, off by %v", by, s, off)
		}
	}
	chord := model.Segment{Kind: model.Line, From: o[2].From, To: o[2].To}
	if s := o.Corrected(2, model.Correction{Arc: true, To: chord.Middle()})[2]; s.Kind != model.Line {
		t.Errorf("bent straight: %+v", s)
	}
}
