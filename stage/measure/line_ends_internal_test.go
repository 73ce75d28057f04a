package measure

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A bar lies askew on the mat, barHalf to either side of a line; offBar is how far outside
// it a place of the mat lies, off its ends or not.
const barHalf = 14.0

var barAlong = r2.Unit(r2.Vec{X: 1, Y: 0.35})

func offBar(mm r2.Vec) float64 {
	p := r2.Sub(mm, r2.Vec{X: 200, Y: 150})
	return max(math.Abs(r2.Dot(p, barAlong))-70, math.Abs(r2.Cross(p, barAlong))-barHalf)
}

// barOutline is the bar's outline, out by some mm, in pixels about one apart.
func barOutline(m ground, out float64) []r2.Vec {
	long, wide := 70+out, barHalf+out
	side := r2.Vec{X: -barAlong.Y, Y: barAlong.X}
	var pts []r2.Vec
	for _, c := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		mm := r2.Add(r2.Vec{X: 200, Y: 150}, r2.Add(r2.Scale(c[0]*long, barAlong), r2.Scale(c[1]*wide, side)))
		px, _ := m.cam.Project(r3.Vec{X: mm.X, Y: mm.Y})
		pts = append(pts, px)
	}
	pts = resample(pts, 1)
	if area(pts) < 0 {
		slices.Reverse(pts)
	}
	return pts
}

// Lines end where the bar begins, whatever its tone, and wherever near it the outline was
// drawn: the mat's own tone, the tone of a printed line, far lighter.
func TestLineEnds(t *testing.T) {
	for _, tone := range [3]float64{85, 30, 230} {
		m := plainMat(func(mm r2.Vec) (float64, bool) { return tone, offBar(mm) < 0 })
		for _, out := range [5]float64{-6, -2, 0, 2, 8} { // mm, of 2.5 pixels each
			pts := barOutline(m, out)
			ends := m.lineEnds(pts)
			least := 12
			if out < -2 { // there a line of the other axis takes many
				least = 8
			}
			if len(ends) < least {
				t.Errorf("tone %g, outline %g mm out: %d ends of lines", tone, out, len(ends))
				continue
			}
			var off []float64
			for _, e := range ends {
				at, dir := tangent(pts, e.i, 5)
				at = r2.Add(at, r2.Scale(e.off, outwards(dir)))
				mm, _ := m.cam.OnPlane(at, 0)
				p := r2.Sub(r2.Vec{X: mm.X, Y: mm.Y}, r2.Vec{X: 200, Y: 150})
				if math.Abs(r2.Dot(p, barAlong)) < 50 { // clear of the corners, which lines may pass
					off = append(off, math.Abs(math.Abs(r2.Cross(p, barAlong))-barHalf)*m.perMM())
				}
			}
			slices.Sort(off)
			// Grain of 9 % on lines that double the light: a fifth of a pixel.
			if mid, most := off[len(off)/2], off[len(off)*4/5]; mid > 0.4 || most > 1 {
				t.Errorf("tone %g, outline %g mm out: %d ends, off by %.2f px by the median, %.2f by the fifth", tone, out, len(ends), mid, most)
			}
		}
	}
}

// On a mat without lines, or where lines run on, none ends.
func TestNoLineEnds(t *testing.T) {
	m := plainMat(func(r2.Vec) (float64, bool) { return 0, false })
	if ends := m.lineEnds(barOutline(m, 0)); len(ends) > 1 {
		t.Errorf("%d ends of lines on a bare mat", len(ends))
	}
	m.looks.printed = false
	if ends := m.lineEnds(barOutline(m, 0)); ends != nil {
		t.Errorf("%d ends of lines where none are printed", len(ends))
	}
}

// heldSteps are the steps found along an outline, and what becomes of them by ends of lines.
func heldSteps(t *testing.T, m ground, pts []r2.Vec) (before, after []edgePoint) {
	t.Helper()
	fine, err := m.findSteps(t.Context(), pts, 5, stepReach, m.commonBlur(pts))
	if err != nil {
		t.Fatal(err)
	}
	rejectStrays(fine, 7)
	before = slices.Clone(fine)
	after, err = m.held(t.Context(), fine, pts)
	if err != nil {
		t.Fatal(err)
	}
	return before, after
}

// A light bar with a rim of the mat's own tone: the step of light lies within the rim, the
// edge without. Ends of lines put most of it right. Along a rim that no light tells apart the
// path follows the mat's grain, so it is asked of several mats.
func TestRimOfTheMatsTone(t *testing.T) {
	const rim, mats = 1.2, 4 // mm: three pixels
	right := func(m ground, edge []edgePoint) float64 {
		n, all := 0.0, 0.0
		for _, e := range edge {
			if mm, ok := m.cam.OnPlane(e.at, 0); ok && e.good {
				all++
				if math.Abs(offBar(r2.Vec{X: mm.X, Y: mm.Y}))*m.perMM() < 1 {
					n++
				}
			}
		}
		return n / max(all, 1)
	}
	b, a := 0.0, 0.0
	for grain := range uint64(mats) {
		m := grainedMat(grain, func(mm r2.Vec) (float64, bool) {
			switch off := offBar(mm); {
			case off < -rim:
				return 230, true
			default:
				return 88, off < 0
			}
		})
		before, after := heldSteps(t, m, barOutline(m, -rim))
		b, a = b+right(m, before)/mats, a+right(m, after)/mats
	}
	// Where ends of two lines lie farther apart than guideFar nothing is moved.
	if b > 0.05 || a < 0.5 {
		t.Errorf("%.0f %% of the edge lay within a pixel of the bar's and %.0f %% does", 100*b, 100*a)
	}
}

// Steps that agree with the ends of lines are left as they are.
func TestHeldLeavesAlone(t *testing.T) {
	m := plainMat(func(mm r2.Vec) (float64, bool) { return 230, offBar(mm) < 0 })
	pts := barOutline(m, 0)
	before, after := heldSteps(t, m, pts)
	if len(after) != len(before) {
		t.Fatalf("%d points became %d", len(before), len(after))
	}
	for i, e := range after {
		if e.at != before[i].at || e.sigma != before[i].sigma || e.good != before[i].good {
			t.Fatalf("point %d moved by %.2f px", i, r2.Norm(r2.Sub(e.at, before[i].at)))
		}
	}
}
