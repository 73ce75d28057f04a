package measure

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// of is the cost of an outline, from its definition: what its pixels say, its border
// outwards in each row, and that between rows whose widths differ.
func (e costs) of(from int, width []int) float64 {
	sum := 0.0
	row := func(y, a, b int) {
		for k := min(a, b); k < max(a, b) && y < e.rows; k++ {
			sum += e.row[y*e.cols+k]
		}
	}
	before := 0
	for i, w := range width {
		y := from + i
		row(y, before, w)
		for k := range w {
			sum += e.say[y*e.cols+k]
		}
		sum += e.out[y*e.cols+w-1]
		before = w
	}
	row(from+len(width), before, 0)
	return sum
}

// The cheapest outline is the cheapest of all there are, each tried.
func TestOutlineIsTheCheapest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := costs{rows: rapid.IntRange(1, 4).Draw(t, "rows"), cols: rapid.IntRange(1, 3).Draw(t, "cols")}
		n := e.rows * e.cols
		e.say = rapid.SliceOfN(rapid.Float64Range(-3, 3), n, n).Draw(t, "say")
		e.out = rapid.SliceOfN(rapid.Float64Range(0, 2), n, n).Draw(t, "out")
		e.row = rapid.SliceOfN(rapid.Float64Range(0, 2), n, n).Draw(t, "row")
		best := 0.0
		var grow func(from int, width []int)
		grow = func(from int, width []int) {
			if len(width) > 0 {
				best = min(best, e.of(from, width))
			}
			if from+len(width) == e.rows {
				return
			}
			for w := 1; w <= e.cols; w++ {
				grow(from, append(width[:len(width):len(width)], w))
			}
		}
		for from := range e.rows {
			grow(from, nil)
		}
		from, width, cost, ok := e.outline()
		if ok != (best < 0) {
			t.Fatalf("found %v, the best of all costs %v", ok, best)
		}
		if ok && (math.Abs(cost-best) > 1e-9 || math.Abs(e.of(from, width)-cost) > 1e-9) {
			t.Fatalf("outline from %d of %v costs %v, said %v, the best of all %v", from, width, e.of(from, width), cost, best)
		}
	})
}

// A circle about the axis is seen alike on both sides of the plane through camera and
// axis, through a lens that bends too: places of it that mirror each other lie in one row
// and the same columns apart.
func TestCircleIsItsOwnMirrorImage(t *testing.T) {
	cam := plainMat(func(r2.Vec) (float64, bool) { return 0, false }).cam
	cam.K1, cam.K2 = -0.05, 0.02
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		p := r3.Vec{X: draw("x", 120, 280), Y: draw("y", 80, 220), Z: draw("z", 5, 40)}
		sin, cos := math.Sincos(draw("azimuth", 0, 2*math.Pi))
		u := r3.Unit(r3.Vec{X: cos, Y: sin, Z: draw("slope", -0.1, 0.1)})
		a, _ := cam.Project(p)
		b, _ := cam.Project(r3.Add(p, r3.Scale(60, u)))
		f, ok := fanThrough(cam, a, b, 50, 200, 1)
		if !ok {
			t.Fatal("no fan")
		}
		radius, turn := draw("radius", 2, 30), draw("turn", 0, math.Pi)
		toCamera := r3.Sub(cam.C, p)
		up := r3.Unit(r3.Sub(toCamera, r3.Scale(r3.Dot(toCamera, u), u)))
		side := r3.Cross(u, up)
		at := func(turn float64) (row, col float64) {
			sin, cos := math.Sincos(turn)
			px, _ := cam.Project(r3.Add(p, r3.Add(r3.Scale(radius*cos, up), r3.Scale(radius*sin, side))))
			return f.cell(px)
		}
		row, col := at(turn)
		other, opposite := at(-turn)
		if math.Abs(row-other) > 1e-6 || math.Abs(col+opposite) > 1e-6 {
			t.Fatalf("row %v and %v, columns %v and %v", row, other, col, opposite)
		}
	})
}

// The path round a closed outline is the cheapest that closes, of all through its start.
func TestPathClosesAtTheLeastCost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, k := rapid.IntRange(2, 5).Draw(t, "normals"), rapid.IntRange(1, 4).Draw(t, "places")
		cost := rapid.SliceOfN(rapid.Float64Range(0, 2), n*k, n*k).Draw(t, "cost")
		place := rapid.IntRange(0, k-1).Draw(t, "place")
		of := func(path []int) float64 {
			sum, before := 0.0, place
			for i, j := range path {
				sum += cost[i*k+j] + pathBend*math.Abs(float64(j-before))
				before = j
			}
			return sum
		}
		best := math.Inf(1)
		var grow func(path []int)
		grow = func(path []int) {
			if len(path) == n {
				if path[n-1] == place {
					best = min(best, of(path))
				}
				return
			}
			for j := range k {
				grow(append(path[:len(path):len(path)], j))
			}
		}
		grow(nil)
		if got := of(cheapest(cost, n, k, 0, place)); math.Abs(got-best) > 1e-9 {
			t.Fatalf("costs %v, the best of all %v", got, best)
		}
	})
}
