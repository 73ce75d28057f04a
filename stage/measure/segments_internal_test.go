package measure

import (
	"math"
	"math/rand/v2"
	"testing"

	"scalewright/model"
)

// drawn samples a profile of lines and arcs with noise.
func drawn(rng *rand.Rand, length, u float64, at func(float64) float64) (rows []row) {
	for k := 0; float64(k)*stationStep <= length; k++ {
		s := stationStep * float64(k)
		rows = append(rows, row{station: station{s: s, r: at(s) + u*rng.NormFloat64(), u: u, seen: bothSides}})
	}
	return rows
}

func TestSegments(t *testing.T) {
	ogive := func(s, s0, r0, radius float64) float64 { // tangent to a cylinder at s0
		return r0 - radius + math.Sqrt(radius*radius-(s-s0)*(s-s0))
	}
	for _, tt := range []struct {
		name   string
		length float64
		at     func(float64) float64
		kinds  []model.SegmentKind
		corner []model.Point // between segments, one each
		radius float64       // of the only arc
	}{
		{
			"cylinder", 80,
			func(float64) float64 { return 12 },
			[]model.SegmentKind{model.Line},
			nil, 0,
		},
		{
			"cone on a cylinder", 80,
			func(s float64) float64 { return 12 - 0.3*max(0, s-50.2) },
			[]model.SegmentKind{model.Line, model.Line},
			[]model.Point{{Station: 50.2, Radius: 12}},
			0,
		},
		{
			"step", 60,
			func(s float64) float64 {
				if s < 30.25 {
					return 14
				}
				return 9
			},
			[]model.SegmentKind{model.Line, model.Line, model.Line},
			[]model.Point{{Station: 30.25, Radius: 14}, {Station: 30.25, Radius: 9}},
			0,
		},
		{
			"ogive", 100,
			func(s float64) float64 {
				if s < 40 {
					return 17
				}
				return ogive(s, 40, 17, 130)
			},
			[]model.SegmentKind{model.Line, model.Arc},
			nil, 130,
		},
		{
			"groove of an arc", 60,
			func(s float64) float64 {
				if math.Abs(s-30) < 6 {
					return 18 - math.Sqrt(100-(s-30)*(s-30))
				}
				return 10
			},
			[]model.SegmentKind{model.Line, model.Arc, model.Line},
			[]model.Point{{Station: 24, Radius: 10}, {Station: 36, Radius: 10}},
			10,
		},
	} {
		t.Run(tt.name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(41, 42))
			got := segments(drawn(rng, tt.length, 0.02, tt.at))
			if len(got) != len(tt.kinds) {
				t.Fatalf("segments(%s) = %v, want kinds %v", tt.name, got, tt.kinds)
			}
			for i, g := range got {
				if g.Kind != tt.kinds[i] {
					t.Errorf("segment %d is %v, want %v", i, g, tt.kinds[i])
				}
				if g.Kind == model.Arc && math.Abs(g.R-tt.radius) > 0.02*tt.radius {
					t.Errorf("arc of %.2f, want %v", g.R, tt.radius)
				}
				if g.Kind == model.Arc {
					for _, p := range []model.Point{g.From, g.To} {
						if d := math.Hypot(p.Station-g.Centre.Station, p.Radius-g.Centre.Radius); math.Abs(d-g.R) > 1e-6 {
							t.Errorf("end %v lies %.6f from the centre of an arc of %.6f", p, d, g.R)
						}
					}
				}
				if i > 0 && g.From != got[i-1].To {
					t.Errorf("segment %d begins at %v, the one before ends at %v", i, g.From, got[i-1].To)
				}
				if g.To.Station < g.From.Station {
					t.Errorf("segment %d runs back: %v", i, g)
				}
			}
			for i, c := range tt.corner {
				if p := got[i].To; math.Abs(p.Station-c.Station) > 0.3 || math.Abs(p.Radius-c.Radius) > 0.05 {
					t.Errorf("corner %d at %v, want %v", i, p, c)
				}
			}
		})
	}
}

// Gander, Golub & Strebel, BIT 34 (1994) 558-578, the six points of their
// examples; the geometric circle as they print it: centre (4.7398, 2.9835),
// radius 4.7142. The algebraic circle (radius 4.1088) is not it.
func TestFitCircle(t *testing.T) {
	x := []float64{1, 2, 5, 7, 9, 3}
	y := []float64{7, 6, 8, 7, 5, 7}
	cx, cy, r, ok := fitCircle(x, y, []float64{1, 1, 1, 1, 1, 1})
	if !ok || math.Abs(cx-4.7398) > 1e-4 || math.Abs(cy-2.9835) > 1e-4 || math.Abs(r-4.7142) > 1e-4 {
		t.Errorf("fitCircle = (%.5f, %.5f) r %.5f", cx, cy, r)
	}
}

// The supporting line of a body at rest, on bodies whose lie is plain.
func TestRestLine(t *testing.T) {
	for _, tt := range []struct {
		name        string
		pts         []spot
		weight      float64
		rise, grade float64
	}{
		{"cylinder", []spot{{s: 0, r: 10}, {s: 50, r: 10}, {s: 100, r: 10}}, 50, 10, 0},
		{"two discs", []spot{{s: 10, r: 20}, {s: 50, r: 5}, {s: 90, r: 12}}, 40, 21, -0.1},
		{"weight past the disc", []spot{{s: 0, r: 4}, {s: 30, r: 20}, {s: 90, r: 8}}, 50, 26, -0.2},
	} {
		a, b, ok := restLine(tt.pts, tt.weight)
		grade := (b.r - a.r) / (b.s - a.s)
		rise := a.r - grade*a.s
		if !ok || math.Abs(rise-tt.rise) > 1e-9 || math.Abs(grade-tt.grade) > 1e-9 {
			t.Errorf("restLine(%s) = %v + %v·s, want %v + %v·s", tt.name, rise, grade, tt.rise, tt.grade)
		}
	}
}
