package lane_test

import (
	"math"
	"testing"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/unit"
)

// On every template of the examples each line of letters stands free: none over
// another, none across a line that is cut, bent or measured along, and none off the
// paper. Boxes turn with their letters.
func TestLettersOfTemplatesStandFree(t *testing.T) {
	n := 0
	for name := range examples {
		p := prepared(t, name)
		for _, u := range []unit.System{unit.Metric, unit.FeetInches} {
			for _, one := range lane.Templates(p.Result, u) {
				n++
				for _, bad := range jostled(one.Figure) {
					t.Errorf("%s, %s, units %v: %s", name, one.Name, u, bad)
				}
			}
		}
	}
	if n < 40 {
		t.Errorf("only %d templates looked at", n)
	}
}

type turnedBox struct {
	text    string
	corners [4]drawing.Point
}

func jostled(s *drawing.Scene) []string {
	var boxes []turnedBox
	var lines []drawing.Segment
	for _, it := range s.Items {
		switch v := it.(type) {
		case drawing.Text:
			boxes = append(boxes, turned(v))
		case drawing.Drawn:
			if v.Style.Stroke.Width > 0 {
				lines = append(lines, v.Path.Segments()...)
			}
		}
	}
	var out []string
	for i, a := range boxes {
		for _, c := range a.corners {
			if c.X < -slack || c.Y < -slack || c.X > s.Width+slack || c.Y > s.Height+slack {
				out = append(out, a.text+" leaves the paper")
				break
			}
		}
		for _, b := range boxes[i+1:] {
			if meet(a.corners[:], b.corners[:]) {
				out = append(out, a.text+" lies over "+b.text)
			}
		}
		low, high := drawing.Pt(math.Inf(1), math.Inf(1)), drawing.Pt(math.Inf(-1), math.Inf(-1))
		for _, c := range a.corners {
			low, high = drawing.Pt(min(low.X, c.X), min(low.Y, c.Y)), drawing.Pt(max(high.X, c.X), max(high.Y, c.Y))
		}
		for _, l := range lines {
			if max(l.A.X, l.B.X) < low.X || min(l.A.X, l.B.X) > high.X || max(l.A.Y, l.B.Y) < low.Y || min(l.A.Y, l.B.Y) > high.Y {
				continue
			}
			if meet(a.corners[:], []drawing.Point{l.A, l.B}) {
				out = append(out, a.text+" lies on a line")
				break
			}
		}
	}
	return out
}

// turned is the box of a line of letters, a little inside its ink.
func turned(v drawing.Text) turnedBox {
	flat := v
	flat.Rotate = 0
	b := flat.Bounds().Inset(slack)
	sin, cos := math.Sincos(v.Rotate * math.Pi / 180)
	out := turnedBox{text: v.String}
	for i, c := range [4]drawing.Point{{X: b.X, Y: b.Y}, {X: b.X + b.W, Y: b.Y}, {X: b.X + b.W, Y: b.Y + b.H}, {X: b.X, Y: b.Y + b.H}} {
		d := c.Sub(v.At)
		out.corners[i] = v.At.Add(drawing.Pt(d.X*cos-d.Y*sin, d.X*sin+d.Y*cos))
	}
	return out
}

// meet reports whether two convex figures overlap: no line along an edge of either
// separates them (separating axis theorem). A line of two places is a figure too.
func meet(a, b []drawing.Point) bool {
	for _, f := range [2][]drawing.Point{a, b} {
		for i := range f {
			e := f[(i+1)%len(f)].Sub(f[i])
			if len(f) == 2 && i == 1 {
				break
			}
			normal := drawing.Pt(-e.Y, e.X)
			if apart(a, b, normal) || len(f) == 2 && apart(a, b, e) {
				return false
			}
		}
	}
	return true
}

func apart(a, b []drawing.Point, along drawing.Point) bool {
	span := func(f []drawing.Point) (lo, hi float64) {
		lo, hi = math.Inf(1), math.Inf(-1)
		for _, p := range f {
			d := p.X*along.X + p.Y*along.Y
			lo, hi = min(lo, d), max(hi, d)
		}
		return lo, hi
	}
	a1, a2 := span(a)
	b1, b2 := span(b)
	return a2 <= b1 || b2 <= a1
}
