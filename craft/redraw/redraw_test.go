package redraw_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/craft/redraw"
	"scalewright/model"
)

func ExampleJoin() {
	o := model.Lines(0, 10, 40, 10.5, 60, 4)
	moved := redraw.All(o)
	moved[0] = redraw.Through(model.Point{Radius: 10.25}, model.Point{Station: 40, Radius: 10.25})
	out, ok := redraw.Join(o, moved, 3)
	fmt.Printf("%v, corner at %.3f, %.2f\n", ok, out[0].To.Station, out[0].To.Radius)
	// Output: true, corner at 40.769, 10.25
}

// The circle through three places: centre and radius of the 3-4-5 triangle's
// circumcircle, whose hypotenuse is a diameter (Thales; Euclid III.31).
func TestCircleThroughThree(t *testing.T) {
	c, ok := redraw.Circle(model.Point{}, model.Point{Station: 3}, model.Point{Radius: 4})
	if !ok || math.Abs(c.Centre.Station-1.5) > 1e-12 || math.Abs(c.Centre.Radius-2) > 1e-12 || math.Abs(c.R-2.5) > 1e-12 {
		t.Errorf("circle %+v", c)
	}
	if _, ok := redraw.Circle(model.Point{}, model.Point{Station: 1, Radius: 1}, model.Point{Station: 2, Radius: 2}); ok {
		t.Error("a circle through three places on a line")
	}
}

// Carriers that nobody moved give the outline back.
func TestJoinOfNothingMoved(t *testing.T) {
	for name, o := range map[string]model.Outline{
		"steps and cones": model.Lines(0, 9, 14, 6, 14, 16, 30, 16, 50, 8),
		"a tip":           model.Lines(0, 0, 20, 10, 60, 10),
		"an arc": {
			{Kind: model.Line, From: model.Point{Radius: 10}, To: model.Point{Station: 20, Radius: 10}},
			{Kind: model.Arc, From: model.Point{Station: 20, Radius: 10}, To: model.Point{Station: 28, Radius: 6}, Centre: model.Point{Station: 20}, R: 10},
		},
	} {
		out, ok := redraw.Join(o, redraw.All(o), 3)
		if d, at := redraw.Apart(o, out); !ok || len(out) != len(o) || d > 1e-6 {
			t.Errorf("%s: %v, %d segments, %v apart at %v", name, ok, len(out), d, at)
		}
	}
}

// Carriers drawn at random, whatever they are, give an outline that can be turned,
// or the old one; numbers stay numbers.
func TestJoinAlwaysTurns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "segments")
		flat := []float64{0, rapid.Float64Range(2, 20).Draw(t, "r0")}
		for i := range n {
			flat = append(flat, float64(i+1)*15, rapid.Float64Range(2, 20).Draw(t, "r"))
		}
		o := model.Lines(flat...)
		moved := redraw.All(o)
		for i := range moved {
			moved[i].P.Radius += rapid.Float64Range(-6, 6).Draw(t, "out")
			turn := rapid.Float64Range(-1.5, 1.5).Draw(t, "turn")
			if rapid.Bool().Draw(t, "turned") {
				moved[i].Dir = model.Point{Station: math.Cos(turn), Radius: math.Sin(turn)}
			}
			if rapid.IntRange(0, 3).Draw(t, "round") == 0 {
				moved[i] = redraw.Carrier{Kind: model.Arc, Centre: moved[i].P, R: rapid.Float64Range(0.1, 40).Draw(t, "R")}
			}
		}
		out, ok := redraw.Join(o, moved, rapid.Float64Range(0, 8).Draw(t, "reach"))
		if trouble, at := out.Trouble(); trouble != "" {
			t.Fatalf("%v: %s at %v: %v", ok, trouble, at, out)
		}
		if d, _ := redraw.Apart(o, out); math.IsNaN(d) || math.IsInf(d, 0) {
			t.Fatalf("apart %v", d)
		}
	})
}

// Two parallel outlines lie their offset apart; at a cone the offset's share square
// to it counts, not along the radius.
func TestApart(t *testing.T) {
	a := model.Lines(0, 10, 50, 10)
	if d, _ := redraw.Apart(a, model.Lines(0, 10.3, 50, 10.3)); math.Abs(d-0.3) > 1e-9 {
		t.Errorf("apart %v, want 0.3", d)
	}
	if d, _ := redraw.Apart(a, a); d != 0 {
		t.Errorf("from itself %v", d)
	}
	if d, _ := redraw.Apart(a, nil); d != 0 {
		t.Errorf("from nothing %v", d)
	}
	// A corner cut off at 45° with legs of 1: its middle lies 1/√2 off.
	sharp, cut := model.Lines(0, 10, 50, 10, 50, 2), model.Lines(0, 10, 49, 10, 50, 9, 50, 2)
	if d, at := redraw.Apart(sharp, cut); math.Abs(d-math.Sqrt2/2) > 1e-9 || at != (model.Point{Station: 50, Radius: 10}) {
		t.Errorf("corner cut off: %v at %v", d, at)
	}
}
