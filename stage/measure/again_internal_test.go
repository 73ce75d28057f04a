package measure

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// within reports whether a place lies in a polygon.
func within(polygon []r2.Vec, p r2.Vec) bool {
	n := 0
	for _, x := range crossings(polygon, p.Y) {
		if x < p.X {
			n++
		}
	}
	return n%2 == 1
}

// A gleam along one side was taken for the edge, inside it: by the other side and by what is
// left of this one the body is found all the same, and by the body the edge.
func TestEdgeSoughtAgain(t *testing.T) {
	b := body{{s: 0, r: 12}, {s: 50, r: 16}, {s: 120, r: 16}}
	a := axis{r3.Vec{X: 140, Y: 150, Z: 16}, r3.Vec{X: 1}}
	cam := overMat()
	outline := resample(outlineSeen(b, a, cam), 1)
	m := plainMat(func(mm r2.Vec) (float64, bool) {
		px, _ := cam.Project(r3.Vec{X: mm.X, Y: mm.Y})
		return 30, within(outline, px)
	})
	edge, ok, err := m.edgeOf(t.Context(), m.objects()[0])
	if !ok || err != nil {
		t.Fatal("no edge", err)
	}
	v := view{cam, edge, sights(cam, edge)}
	pa, _ := cam.Project(r3.Vec{X: 145, Y: 150, Z: 16})
	pb, _ := cam.Project(r3.Vec{X: 255, Y: 150, Z: 16})
	sol, ok := v.solve(pose{a: pa, b: pb, ha: 15, hb: 15}, settings{})
	if !ok {
		t.Fatal("no solution")
	}
	mean := math.Abs(v.off(&sol))
	const gleam, from, to = 5.0, 450.0, 560.0 // pixels inside the edge, and where along it
	moved := 0
	wrong := view{cam, make([]edgePoint, len(edge)), nil}
	for i, e := range edge {
		wrong.edge[i] = e
		if e.out.Y > 0.9 && e.at.X > from && e.at.X < to {
			wrong.edge[i].at = r2.Sub(e.at, r2.Scale(gleam, e.out))
			moved++
		}
	}
	wrong.sight = sights(cam, wrong.edge)
	poor, ok := wrong.solve(pose{a: pa, b: pb, ha: 15, hb: 15}, settings{})
	if !ok || moved < 50 {
		t.Fatal("no solution beside a gleam", moved)
	}
	w, next, turned, err := m.again(t.Context(), wrong, poor, settings{}, true)
	if err != nil || !turned {
		t.Fatal("no turned body", err)
	}
	if off := w.off(&sol); off > 2*mean {
		t.Errorf("the edge found again lies %.2f px off the body, the first one %.2f, the true one %.2f", off, wrong.off(&sol), mean)
	}
	if off := v.off(&next); off > 2*mean {
		t.Errorf("the body fitted again lies %.2f px off the true edge, the first %.2f", off, v.off(&poor))
	}
}
