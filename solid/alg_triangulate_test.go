package solid_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
)

// checkTriangulation says what is wrong with a triangulation, from the
// definition: count, direction, area, and each edge of the outline used once and
// each diagonal twice.
func checkTriangulation(t interface {
	Fatalf(string, ...any)
}, r solid.Region,
) {
	var points []solid.Point
	edges := map[[2]int32]int{}
	for _, l := range r.Loops() {
		base, n := int32(len(points)), int32(len(l))
		for i := range n {
			edges[[2]int32{base + i, base + (i+1)%n}]--
			edges[[2]int32{base + (i+1)%n, base + i}]++
		}
		points = append(points, l...)
	}
	triangles := r.Triangulate()
	if want := len(points) + 2*len(r.Holes) - 2; len(triangles) != want {
		t.Fatalf("%d triangles, want %d", len(triangles), want)
	}
	area := 0.0
	for _, f := range triangles {
		a, b, c := points[f[0]], points[f[1]], points[f[2]]
		if solid.Orient(a, b, c) != solid.CounterClockwise {
			t.Fatalf("triangle %v (%v, %v, %v) is not anticlockwise", f, a, b, c)
		}
		area += ((b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])) / 2
		for k := range 3 {
			edges[[2]int32{f[k], f[(k+1)%3]}]++
			edges[[2]int32{f[(k+1)%3], f[k]}]--
		}
	}
	for e, n := range edges {
		if n != 0 {
			t.Fatalf("edge %v is used %d times too often", e, n)
		}
	}
	if want := r.Area(); math.Abs(area-want) > 1e-9*math.Max(1, want) {
		t.Fatalf("triangles cover %v of %v", area, want)
	}
}

// someRegion draws a comb or star on a coarse grid of angles and radii (so that
// corners fall in line) with square holes in a free middle.
func someRegion(t *rapid.T) solid.Region {
	n := rapid.IntRange(3, 60).Draw(t, "corners")
	radius := rapid.OneOf(
		rapid.Map(rapid.IntRange(10, 14), func(i int) float64 { return float64(10 * i) }),
		rapid.Float64Range(100, 150),
	)
	var r solid.Region
	for k := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		x := radius.Draw(t, "radius")
		r.Outer = append(r.Outer, solid.Point{x * cos, x * sin})
	}
	if n < 12 {
		return r // the middle might not be free
	}
	side := rapid.IntRange(0, 6).Draw(t, "side")
	for i := range side {
		for j := range side {
			if rapid.Bool().Draw(t, "hole") {
				x, y := 20*float64(i)-50, 20*float64(j)-50
				w := rapid.SampledFrom([]float64{1, 10, 19}).Draw(t, "width")
				hole := []solid.Point{{x, y}, {x, y + w}, {x + w, y + w}, {x + w, y}}
				if rapid.Bool().Draw(t, "flat point") {
					hole = append(hole, solid.Point{x + w/2, y})
				}
				r.Holes = append(r.Holes, hole)
			}
		}
	}
	return r
}

func TestTriangulate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := someRegion(t)
		if err := r.Check(); err != nil {
			t.Skip(err)
		}
		checkTriangulation(t, r)
	})
}

func TestTriangulateCases(t *testing.T) {
	var comb, circle []solid.Point
	for k := range 200 {
		comb = append(comb, solid.Point{float64(k), 0}, solid.Point{float64(k) + 0.5, 100})
	}
	comb = append(comb, solid.Point{200, 101}, solid.Point{-1, 101})
	for k := range 512 {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / 512)
		circle = append(circle, solid.Point{126 * cos, 126 * sin})
	}
	var bore []solid.Point
	for k := range 512 {
		bore = append(bore, solid.Point{circle[511-k][0] * 0.9, circle[511-k][1] * 0.9})
	}
	for _, c := range []struct {
		name string
		r    solid.Region
	}{
		{"triangle", solid.Region{Outer: []solid.Point{{0, 0}, {1, 0}, {0, 1}}}},
		{"flat points on every edge", solid.Region{Outer: []solid.Point{{0, 0}, {1, 0}, {2, 0}, {3, 0}, {3, 1}, {3, 3}, {2, 3}, {1, 3}, {0, 3}, {0, 2}}}},
		{"flat points on one edge", solid.Region{Outer: []solid.Point{{0, 0}, {1, 0}, {2, 0}, {3, 0}, {4, 0}, {1, 5}}}},
		{"comb", solid.Region{Outer: comb}},
		{"annulus", solid.Region{Outer: circle, Holes: [][]solid.Point{bore}}},
		{"far away", solid.Region{Outer: []solid.Point{{1e8, 1e8}, {1e8 + 1, 1e8}, {1e8 + 1, 1e8 + 1}, {1e8 + 0.5, 1e8 + 0.5}, {1e8, 1e8 + 1}}}},
		{"holes in a row", solid.Region{
			Outer: []solid.Point{{0, 0}, {10, 0}, {10, 3}, {0, 3}},
			Holes: [][]solid.Point{{{1, 1}, {1, 2}, {2, 2}, {2, 1}}, {{3, 1}, {3, 2}, {4, 2}, {4, 1}}, {{5, 1}, {5, 2}, {6, 2}, {6, 1}}},
		}},
	} {
		if err := c.r.Check(); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		t.Run(c.name, func(t *testing.T) { checkTriangulation(t, c.r) })
	}
}

// Whatever the loops, the triangulation ends with the number of triangles it
// promises: caps of cuts rely on it.
func TestTriangulateAlwaysEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(t, "n")
		var r solid.Region
		for range n {
			r.Outer = append(r.Outer, somePoint(t, "p"))
		}
		if got := len(r.Triangulate()); got != n-2 {
			t.Fatalf("%d triangles, want %d", got, n-2)
		}
	})
	if got := (solid.Region{}).Triangulate(); got != nil {
		t.Errorf("nothing has triangles %v", got)
	}
}

func TestRegionRefuses(t *testing.T) {
	square := []solid.Point{{0, 0}, {9, 0}, {9, 9}, {0, 9}}
	for _, c := range []struct {
		name string
		r    solid.Region
		want string
	}{
		{"hole runs the wrong way", solid.Region{square, [][]solid.Point{{{1, 1}, {2, 1}, {2, 2}}}}, "outline loop 1, point 0 (x 1, y 1): runs the wrong way (outer loops anticlockwise, holes clockwise)"},
		{"hole outside", solid.Region{square, [][]solid.Point{{{11, 1}, {12, 2}, {12, 1}}}}, "outline loop 1, point 0 (x 11, y 1): runs the wrong way (outer loops anticlockwise, holes clockwise)"},
		{"hole touches", solid.Region{square, [][]solid.Point{{{0, 1}, {2, 2}, {2, 1}}}}, "outline crosses or touches itself near x 0, y 1: edge 3 of loop 0 and edge 0 of loop 1"},
		{"empty", solid.Region{}, "outline loop 0 has fewer than three points"},
	} {
		if err := c.r.Check(); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}
