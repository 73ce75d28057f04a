package drawing_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/drawing"
)

// inside is the even-odd rule by a level ray, written from its definition.
func inside(ps []drawing.Point, p drawing.Point) bool {
	in := false
	for i, a := range ps {
		b := ps[(i+1)%len(ps)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// edgeDistance is the distance from p to the nearest edge.
func edgeDistance(ps []drawing.Point, p drawing.Point) float64 {
	best := math.Inf(1)
	for i, a := range ps {
		b := ps[(i+1)%len(ps)]
		d := b.Sub(a)
		t := 0.0
		if l := d.X*d.X + d.Y*d.Y; l > 0 {
			t = max(0, min(1, ((p.X-a.X)*d.X+(p.Y-a.Y)*d.Y)/l))
		}
		best = min(best, p.Dist(a.Add(d.Mul(t))))
	}
	return best
}

func TestHatchLiesInRegion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Custom(func(t *rapid.T) drawing.Point {
			return drawing.Pt(float64(rapid.IntRange(0, 60).Draw(t, "x")), float64(rapid.IntRange(0, 60).Draw(t, "y")))
		})
		ps := rapid.SliceOfN(c, 3, 9).Draw(t, "polygon")
		h := drawing.Hatch{
			Falling: rapid.Bool().Draw(t, "falling"),
			Pitch:   rapid.Float64Range(0.5, 6).Draw(t, "pitch"),
			Shift:   rapid.Float64Range(-3, 3).Draw(t, "shift"),
		}
		sign := 1.0
		if h.Falling {
			sign = -1
		}
		for _, s := range drawing.HatchLines(drawing.Polygon(ps...), h) {
			d := s.B.Sub(s.A)
			if math.Abs(d.X+sign*d.Y) > 1e-9 {
				t.Fatalf("segment %v is not at 45 degrees", s)
			}
			for _, k := range []float64{0, 0.25, 0.5, 0.75, 1} {
				p := s.A.Add(d.Mul(k))
				if !inside(ps, p) && edgeDistance(ps, p) > 1e-9 {
					t.Fatalf("%v of segment %v lies outside", p, s)
				}
			}
			v := (s.A.Y + sign*s.A.X) / math.Sqrt2
			if k := (v - h.Shift) / h.Pitch; math.Abs(k-math.Round(k)) > 1e-6 {
				t.Fatalf("segment %v is off the grid of the paper", s)
			}
		}
	})
}

// TestHatchArea: the lines' length times the pitch tends to the area (Cavalieri).
func TestHatchArea(t *testing.T) {
	ring := drawing.Circle(drawing.Pt(50, 50), 40).Append(drawing.Circle(drawing.Pt(50, 50), 25))
	const pitch = 0.5
	sum := 0.0
	for _, s := range drawing.HatchLines(ring, drawing.Hatch{Pitch: pitch}) {
		sum += s.A.Dist(s.B) * pitch
		if mid := s.A.Add(s.B).Mul(0.5); mid.Dist(drawing.Pt(50, 50)) < 25 {
			t.Fatalf("segment %v crosses the hole", s)
		}
	}
	if want := math.Pi * (40*40 - 25*25); math.Abs(sum-want) > want*0.005 {
		t.Errorf("hatched %v mm², want %v", sum, want)
	}
}

func TestHatchDegenerate(t *testing.T) {
	for name, p := range map[string]*drawing.Path{
		"empty":     {},
		"point":     drawing.Polygon(drawing.Pt(1, 1), drawing.Pt(1, 1), drawing.Pt(1, 1)),
		"line":      drawing.Polyline(drawing.Pt(0, 0), drawing.Pt(9, 9)),
		"flat":      drawing.Polygon(drawing.Pt(0, 0), drawing.Pt(9, 0), drawing.Pt(3, 0)),
		"not a box": drawing.Polygon(drawing.Pt(0, 0), drawing.Pt(math.NaN(), 0), drawing.Pt(3, math.Inf(1))),
	} {
		if got := drawing.HatchLines(p, drawing.Hatch{}); len(got) > 0 {
			t.Errorf("HatchLines(%s) = %v, want none", name, got)
		}
	}
}
