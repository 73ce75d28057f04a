package lane

import (
	"math"
	"testing"

	"pgregory.net/rapid"

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

// Of a solid in a hollow one nothing is seen, and a convex solid's whole contour is.
func TestHiddenEdgesAreLeftOut(t *testing.T) {
	long := func(m solid.Mesh) float64 {
		total := 0.0
		for _, run := range contourEdges(m, flatly).runs(m, flatly) {
			for i := 1; i < len(run); i++ {
				total += math.Hypot(run[i].X-run[i-1].X, run[i].Y-run[i-1].Y)
			}
		}
		return total
	}
	box, err := solid.Box(solid.Vec{-10, -10, 0}, solid.Vec{10, 10, 20})
	box = must(t, box, err)
	if got := long(box); math.Abs(got-80) > 1e-9 {
		t.Errorf("a box shows %v of edges, want 80", got)
	}
	inner, err := solid.Box(solid.Vec{-5, -5, 5}, solid.Vec{5, 5, 15})
	hollow, err2 := solid.Kernel{}.Subtract(t.Context(), box, must(t, inner, err))
	if got := long(must(t, hollow, err2)); math.Abs(got-80) > 1e-9 {
		t.Errorf("a hollow box shows %v of edges, want 80", got)
	}
	rapid.Check(t, func(rt *rapid.T) {
		d := solid.Vec{rapid.Float64Range(-1, 1).Draw(rt, "x"), rapid.Float64Range(-1, 1).Draw(rt, "y"), 1}
		m := box.Transform(solid.Rotation(d, rapid.Float64Range(-3, 3).Draw(rt, "angle")))
		whole := 0.0
		for _, loop := range contourEdges(m, flatly) {
			for i, v := range loop {
				p, q := m.Vertices[v], m.Vertices[loop[(i+1)%len(loop)]]
				whole += math.Hypot(p[0]-q[0], p[1]-q[1])
			}
		}
		if got := long(m); math.Abs(got-whole) > 1e-3*whole {
			rt.Fatalf("of %v of edges %v are seen", whole, got)
		}
	})
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
