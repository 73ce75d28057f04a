package drawing_test

import (
	"testing"

	"pgregory.net/rapid"

	"scalewright/drawing"
)

func overlap(a, b drawing.Rect) bool {
	w := min(a.X+a.W, b.X+b.W) - max(a.X, b.X)
	h := min(a.Y+a.H, b.Y+b.H) - max(a.Y, b.Y)
	return w > 0 && h > 0
}

// through samples a leader: slow, and sharing nothing with the solver.
func through(l [2]drawing.Point, r drawing.Rect) bool {
	for i := 1; i < 1000; i++ {
		p := l[0].Add(l[1].Sub(l[0]).Mul(float64(i) / 1000))
		if p.X > r.X && p.X < r.X+r.W && p.Y > r.Y && p.Y < r.Y+r.H {
			return true
		}
	}
	return false
}

func drawLabels(t *rapid.T) ([]drawing.Label, drawing.PlaceOptions) {
	n := rapid.IntRange(0, 25).Draw(t, "n")
	var ls []drawing.Label
	for i := range n {
		l := drawing.Label{
			At: drawing.Pt(rapid.Float64Range(10, 190).Draw(t, "x"), rapid.Float64Range(10, 90).Draw(t, "y")),
			// A blocker more often than not, for crowding.
			Grade: drawing.Grade(rapid.IntRange(0, 3).Draw(t, "grade")),
			Lines: []drawing.LabelLine{{Text: rapid.StringMatching(`[a-z ]{1,40}`).Draw(t, "words")}},
		}
		l.Station = l.At.X
		if i%3 == 0 {
			l.Lines = append(l.Lines, drawing.LabelLine{Text: "Thicken inward 0.40.", Face: drawing.Bold})
		}
		ls = append(ls, l)
	}
	return ls, drawing.PlaceOptions{
		Area:  drawing.Rect{W: 200, H: 100},
		Keep:  []drawing.Rect{{X: 40, Y: 40, W: 120, H: 20}},
		Clear: []drawing.Rect{{X: 20, Y: 10, W: 30, H: 6}},
	}
}

func TestLabelsNeverOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ls, o := drawLabels(t)
		ps := drawing.PlaceLabels(ls, o)
		for i, p := range ps {
			if !p.Found {
				continue
			}
			if b := p.Box; b.X < 0 || b.Y < 0 || b.X+b.W > 200 || b.Y+b.H > 100 {
				t.Fatalf("label %d at %v leaves the area", i, b)
			}
			for _, k := range append(o.Keep, o.Clear...) {
				if overlap(p.Box, k) {
					t.Fatalf("label %d at %v covers %v", i, p.Box, k)
				}
			}
			if c := o.Clear[0]; through(p.Leader, c) && !overlap(c, drawing.Rect{X: p.At.X, Y: p.At.Y, W: 1e-9, H: 1e-9}) {
				t.Fatalf("leader %v runs through %v", p.Leader, c)
			}
			for j, q := range ps {
				if i != j && q.Found && (overlap(p.Box, q.Box) || through(q.Leader, p.Box)) {
					t.Fatalf("labels %d and %d meet: %v, %v with leader %v", i, j, p.Box, q.Box, q.Leader)
				}
			}
		}
	})
}

func TestLabelsGradeFirst(t *testing.T) {
	// Room for one only: the blocker has it, though it comes last.
	area := drawing.Rect{W: 40, H: 14}
	line := []drawing.LabelLine{{Text: "wall 0.84, wants 1.20"}}
	ps := drawing.PlaceLabels([]drawing.Label{
		{At: drawing.Pt(20, 12), Station: 1, Grade: drawing.Note, Lines: line},
		{At: drawing.Pt(20, 12), Station: 2, Grade: drawing.Blocker, Lines: line},
	}, drawing.PlaceOptions{Area: area, Clear: []drawing.Rect{{Y: 8, W: 40, H: 6}}})
	if ps[0].Found || !ps[1].Found {
		t.Errorf("found note %v, blocker %v; want the blocker alone", ps[0].Found, ps[1].Found)
	}
}

// A place on the edge of a clear box leads away from it, found by the property
// above.
func TestLabelOnEdgeLeadsAway(t *testing.T) {
	box := drawing.Rect{X: 20, Y: 10, W: 30, H: 6}
	for _, at := range []drawing.Point{{X: 20.5, Y: 16}, {X: 20, Y: 12}, {X: 50, Y: 16}} {
		p := drawing.PlaceLabels([]drawing.Label{{At: at, Lines: []drawing.LabelLine{{Text: "x"}}}},
			drawing.PlaceOptions{Area: drawing.Rect{W: 200, H: 100}, Clear: []drawing.Rect{box}})[0]
		if !p.Found || through(p.Leader, box) {
			t.Errorf("at %v: found %v, leader %v", at, p.Found, p.Leader)
		}
	}
}
