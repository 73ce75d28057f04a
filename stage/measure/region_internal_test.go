package measure

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// The outermost lines of a mat, which cross nothing, are the grid's too where they show; two
// beyond the marks at most, and none that the picture does not have.
func TestGridOf(t *testing.T) {
	// Lines from 10 to 350 by 10 to 290 mm are in the picture; beyond lies bare mat, and a
	// lighter table from where the next line would be.
	m := plainMat(func(mm r2.Vec) (float64, bool) {
		if mm.X > 359.5 {
			return 160, true
		}
		return 90 * (1 - 0.1*mm.X/400), mm.X > 355
	})
	for name, c := range map[string]struct {
		marks [4]float64 // from and to, X then Y, mm
		want  [4]float64
	}{
		"one line beyond":      {[4]float64{60, 340, 60, 200}, [4]float64{40, 350, 40, 220}},
		"all marks found":      {[4]float64{60, 350, 60, 200}, [4]float64{40, 350, 40, 220}},
		"at the picture's end": {[4]float64{60, 300, 20, 290}, [4]float64{40, 320, 10, 290}},
	} {
		var marks []r2.Vec
		for x := c.marks[0]; x <= c.marks[1]; x += 10 {
			for y := c.marks[2]; y <= c.marks[3]; y += 10 {
				marks = append(marks, r2.Vec{X: x, Y: y})
			}
		}
		lo, hi := r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
		for _, at := range m.photo.gridOf(m.cam, marks, [2]float64{10, 10}) {
			lo, hi = r2.Vec{X: min(lo.X, at.X), Y: min(lo.Y, at.Y)}, r2.Vec{X: max(hi.X, at.X), Y: max(hi.Y, at.Y)}
		}
		if got := [4]float64{lo.X, hi.X, lo.Y, hi.Y}; got != c.want {
			t.Errorf("%s: the grid goes %v, want %v", name, got, c.want)
		}
	}
}

// An edge whose outline lies inside it is left where it is over the body's own colour, and
// drawn in over bare mat and shadow.
func TestKeepBody(t *testing.T) {
	m := plainMat(func(mm r2.Vec) (float64, bool) {
		switch {
		case math.Abs(mm.Y-150) > 20 || math.Abs(mm.X-200) > 80:
			return 0, false
		case mm.X < 180:
			return 220, true // body
		}
		return 45, true // shadow
	})
	const off = 10.0
	line := func(from, to float64) (edge []edgePoint, px []float64) {
		for x := from; x < to; x += 0.4 {
			at, _ := m.cam.Project(r3.Vec{X: x, Y: 165})
			edge, px = append(edge, edgePoint{at: at, out: r2.Vec{Y: -1}}), append(px, off)
		}
		for k := range 10 { // a stretch that fits, so that the run has ends
			px[k] = 0
		}
		return edge, px
	}
	for name, c := range map[string]struct {
		from, to, want float64
	}{"body": {130, 170, 0}, "shadow": {200, 240, off}, "mat": {300, 340, off}} {
		edge, px := line(c.from, c.to)
		m.keepBody(edge, px)
		if got := px[len(px)/2]; got != c.want {
			t.Errorf("%s: drawn by %v px, want %v", name, got, c.want)
		}
	}
}
