package lane

import (
	"math"
	"testing"

	"scalewright/drawing"
	"scalewright/solid"
)

// flatly is a view of the xy plane from above, at full size: y up.
func flatly(v solid.Vec) drawing.Point { return drawing.Pt(v[0], -v[1]) }

// covered is the area that loops cover by winding number, tried on a grid.
func covered(m solid.Mesh, see view, step float64) float64 {
	edges := contourEdges(m, see)
	b := m.Bounds()
	n := 0
	for x := b.Min[0] + step/2; x < b.Max[0]; x += step {
		for y := b.Min[1] + step/2; y < b.Max[1]; y += step {
			at, turns := see(solid.Vec{x, y}), 0.0
			for _, loop := range edges {
				for i, v := range loop {
					p, q := see(m.Vertices[v]).Sub(at), see(m.Vertices[loop[(i+1)%len(loop)]]).Sub(at)
					turns += math.Atan2(p.X*q.Y-p.Y*q.X, p.X*q.X+p.Y*q.Y)
				}
			}
			if math.Abs(turns) > math.Pi {
				n++
			}
		}
	}
	return float64(n) * step * step
}

func must(t *testing.T, m solid.Mesh, err error) solid.Mesh {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// What a contour covers is what a solid's shadow has, in closed form.
func TestContourIsTheShadow(t *testing.T) {
	ball, err := solid.Sphere(solid.Vec{}, 10, 12)
	ball = must(t, ball, err)
	tube, err := solid.Tube(solid.TubeSize{Outer: 10, Bore: 6, High: 5, Segments: 96})
	tube = must(t, tube, err)
	box, err := solid.Box(solid.Vec{-3, -4, 0}, solid.Vec{3, 4, 5})
	box = must(t, box, err)
	lean := box.Transform(solid.Rotation(solid.Vec{1, 0, 0}, math.Pi/6))
	two := solid.Join(box, box.Translate(solid.Vec{2, 2, 20}))
	for name, c := range map[string]struct {
		m    solid.Mesh
		want float64
	}{
		"a ball":                      {ball, math.Pi * 100},
		"a tube, with its hole":       {tube, math.Pi * (100 - 36)},
		"a box":                       {box, 48},
		"a box that leans":            {lean, 6 * (8*math.Cos(math.Pi/6) + 5*math.Sin(math.Pi/6))},
		"two, one over the other":     {two, 2*48 - 4*6},
		"a tube on edge hides itself": {tube.Transform(solid.QuarterTurns(0, 1)), 20 * 5},
	} {
		if got := covered(c.m, flatly, 0.1); math.Abs(got-c.want) > 0.02*c.want {
			t.Errorf("%s covers %v, want %v", name, got, c.want)
		}
	}
}

// long is the length of rows of points.
func long(runs [][]drawing.Point) float64 {
	total := 0.0
	for _, run := range runs {
		for i := 1; i < len(run); i++ {
			total += math.Hypot(run[i].X-run[i-1].X, run[i].Y-run[i-1].Y)
		}
	}
	return total
}

// Of a solid in a hollow one nothing is seen, and of one behind another what that
// doesn't cover.
func TestHiddenEdgesAreLeftOut(t *testing.T) {
	box, err := solid.Box(solid.Vec{-10, -10, 0}, solid.Vec{10, 10, 20})
	box = must(t, box, err)
	if got := long(visibleRuns(flatly, box)[0]); math.Abs(got-80) > 1e-9 {
		t.Errorf("a box shows %v of edges, want 80", got)
	}
	inner, err := solid.Box(solid.Vec{-5, -5, 5}, solid.Vec{5, 5, 15})
	hollow, err2 := solid.Kernel{}.Subtract(t.Context(), box, must(t, inner, err))
	if got := long(visibleRuns(flatly, must(t, hollow, err2))[0]); math.Abs(got-80) > 1e-9 {
		t.Errorf("a hollow box shows %v of edges, want 80", got)
	}
	two := visibleRuns(flatly, box.Translate(solid.Vec{10, 10, -30}), box)
	if behind, before := long(two[0]), long(two[1]); math.Abs(behind-60) > 1e-9 || math.Abs(before-80) > 1e-9 {
		t.Errorf("a box shows %v before and %v behind another, want 80 and 60", before, behind)
	}
	if none := visible(flatly); len(none) != 0 {
		t.Errorf("of nothing %v is seen", none)
	}
}

// A pit too small to read is left out; a small solid by itself is not.
func TestSpecksAreLeftOut(t *testing.T) {
	plate, err := solid.Box(solid.Vec{-10, -10, 0}, solid.Vec{10, 10, 5})
	plate = must(t, plate, err)
	for side, want := range map[float64]float64{0.4: 80, 4: 80 + 16} {
		pin, err := solid.Box(solid.Vec{0, 0, 4}, solid.Vec{side, side, 6})
		pitted, err2 := solid.Kernel{}.Subtract(t.Context(), plate, must(t, pin, err))
		if got := long(visibleRuns(flatly, must(t, pitted, err2))[0]); math.Abs(got-want) > 1e-9 {
			t.Errorf("a plate with a pit of %v mm shows %v of edges, want %v", side, got, want)
		}
	}
	small, err := solid.Box(solid.Vec{}, solid.Vec{0.4, 0.4, 0.4})
	if got := long(visibleRuns(flatly, must(t, small, err))[0]); math.Abs(got-1.6) > 1e-9 {
		t.Errorf("a small box shows %v of edges, want 1.6", got)
	}
}

// The eye of a view is where it is looked at from.
func TestEye(t *testing.T) {
	box := drawing.Rect{W: 1, H: 1}
	for name, c := range map[string]struct {
		see  view
		want solid.Vec
	}{
		"elevation":  {lying(0.5, drawing.Pt(3, 4)).side, solid.Vec{0, 1, 0}},
		"standing":   {upright(2, drawing.Pt(3, 4), false).side, solid.Vec{0, 1, 0}},
		"from above": {onPaper(fromAbove, box, 2, drawing.Pt(1, 1)), solid.Vec{0, 0, 1}},
		"from front": {onPaper(fromFront, box, 2, drawing.Pt(1, 1)), solid.Vec{0, -1, 0}},
	} {
		if got := c.see.eye(); got.Sub(c.want).Length() > 1e-12 {
			t.Errorf("%s: the eye is at %v, want %v", name, got, c.want)
		}
	}
}
