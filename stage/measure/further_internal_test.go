package measure

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
)

// A polished body mirrors the white ruler along one of its sides: the inner border of that
// band was taken for the edge, which shows only faintly outside it.
func TestEdgeOutsideGleam(t *testing.T) {
	b := body{{s: 0, r: 12}, {s: 50, r: 16}, {s: 120, r: 16}}
	a := axis{r3.Vec{X: 140, Y: 150, Z: 16}, r3.Vec{X: 1}}
	cam := &camera.Camera{F: 1000, Cx: 499.5, Cy: 374.5, C: r3.Vec{X: 200, Y: 150, Z: 400}}
	cam.R = [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}
	outline := resample(outlineSeen(b, a, cam), 1)
	const gleam = 8.0 // pixels of the body's upper side
	m := plainMat(func(mm r2.Vec) (float64, bool) {
		px, _ := cam.Project(r3.Vec{X: mm.X, Y: mm.Y})
		up := func(by float64) bool { return within(outline, r2.Add(px, r2.Vec{Y: by})) }
		switch {
		case within(outline, px) && up(-gleam):
			return 30, true
		case within(outline, px):
			return 190, true
		}
		return 200, up(30) || up(15) // the ruler
	})
	edge := make([]edgePoint, len(outline))
	if area(outline) < 0 {
		slices.Reverse(outline)
	}
	for i := range edge {
		at, dir := tangent(outline, i, 5)
		edge[i] = edgePoint{at: at, out: outwards(dir), sigma: 0.1, good: true}
	}
	start := pose{a: r2.Vec{X: 380, Y: 374}, b: r2.Vec{X: 650, Y: 374}, ha: 40, hb: 40}
	v := view{cam, edge, sights(cam, edge)}
	right, ok := v.solve(start, settings{})
	if !ok {
		t.Fatal("no solution")
	}
	w := view{cam, slices.Clone(edge), nil}
	for i, e := range edge {
		if e.out.Y < -0.5 {
			w.edge[i].at = r2.Sub(e.at, r2.Scale(gleam, e.out))
		}
	}
	w.sight = sights(cam, w.edge)
	wrong, ok := w.solve(start, settings{})
	if !ok {
		t.Fatal("no solution beside a gleam")
	}
	_, open := m.leftOpen(w, wrong, settings{})
	if open.further < 1 {
		t.Errorf("the edge of the ruler's image lies %.2f px off the body's: %.2f mm are left open", v.off(&wrong), open.further)
	}
	off := math.Abs(open.form.most() - 16)
	if u := slices.Max(open.uForm); off > 2*u || off < 0.5 {
		t.Errorf("the radius is %.2f mm off, its standard uncertainty %.2f", off, u)
	}
	if _, same := m.leftOpen(v, right, settings{}); same.further != 0 {
		t.Errorf("%.2f mm are left open outside the true edge", same.further)
	}
}

// The last place at which most of a side shows a step: not the blur of the edge itself, nor
// what lines of the mat show, nor where steps go on.
func TestOutermost(t *testing.T) {
	const n = int((furtherTill+6)/furtherStep) + 1
	strip := func(edges ...float64) (sum, hits []float64) {
		for j := range n {
			x := furtherStep * float64(j)
			g := 0.012
			for _, at := range edges {
				g += 0.1 * math.Exp(-(x-at)*(x-at)/2)
			}
			sum, hits = append(sum, g), append(hits, min(1, 30*g))
		}
		return sum, hits
	}
	for _, c := range []struct {
		want  float64
		edges []float64
	}{
		{0, []float64{0}},
		{6, []float64{0, 6}},
		{9, []float64{0, 5, 9}},
		{0, []float64{0, 2}},
		{0, []float64{0, 14, 16, 18, 20, 22}},
	} {
		sum, hits := strip(c.edges...)
		if got := outermost(sum, hits); got != c.want {
			t.Errorf("steps at %v: %.1f, want %.1f", c.edges, got, c.want)
		}
	}
}
