package solid_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
	"scalewright/solid/solidtest"
)

func line(from, to solid.Vec) solid.Ray {
	return must(solid.NewRay(from, to.Sub(from), math.Inf(1)))
}

// balance counts how often a ray leaves less how often it enters.
func balance(hits []solid.Hit) int {
	n := 0
	for _, h := range hits {
		if h.Leaving {
			n++
		} else {
			n--
		}
	}
	return n
}

func TestNewRayRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, r := range map[string]struct {
		from, way solid.Vec
		reach     float64
	}{
		"origin NaN":         {solid.Vec{nan, 0, 0}, solid.Vec{1, 0, 0}, 1},
		"origin infinite":    {solid.Vec{0, -inf, 0}, solid.Vec{1, 0, 0}, 1},
		"no direction":       {solid.Vec{}, solid.Vec{}, 1},
		"direction NaN":      {solid.Vec{}, solid.Vec{1, nan, 0}, 1},
		"direction infinite": {solid.Vec{}, solid.Vec{1, 0, inf}, 1},
		"reach NaN":          {solid.Vec{}, solid.Vec{1, 0, 0}, nan},
		"reach below 0":      {solid.Vec{}, solid.Vec{1, 0, 0}, -1},
	} {
		var value *solid.ValueError
		if _, err := solid.NewRay(r.from, r.way, r.reach); !errors.As(err, &value) {
			t.Errorf("%s: error %v, want a ValueError", name, err)
		}
	}
}

// A ray through a row of unit cubes meets two faces a cube at whole numbers;
// through their corners, along their edges and in the plane of their faces it
// enters as often as it leaves, and is never outside inside one.
func TestRayThroughLattice(t *testing.T) {
	var cubes []solid.Mesh
	for i := range 5 {
		for j := range 5 {
			for k := range 5 {
				cubes = append(cubes, solidtest.Cube(solid.Vec{2 * float64(i), 2 * float64(j), 2 * float64(k)}))
			}
		}
	}
	tree := must(solid.NewTree(solid.Join(cubes...)))
	hits := tree.Hits(line(solid.Vec{-1, 0.5, 0.25}, solid.Vec{0, 0.5, 0.25}))
	if len(hits) != 10 {
		t.Fatalf("%d hits, want 10", len(hits))
	}
	for i, h := range hits {
		if h.At != (solid.Vec{float64(i), 0.5, 0.25}) || h.T != float64(i+1) || h.Leaving != (i%2 == 1) {
			t.Errorf("hit %d: %+v", i, h)
		}
	}
	for name, r := range map[string]solid.Ray{
		"through corners":            line(solid.Vec{-1, -1, -1}, solid.Vec{0, 0, 0}),
		"through corners, backwards": line(solid.Vec{10, 10, 10}, solid.Vec{9, 9, 9}),
		"along edges":                line(solid.Vec{-1, 0, 0}, solid.Vec{0, 0, 0}),
		"along inner edges":          line(solid.Vec{-1, 4, 5}, solid.Vec{0, 4, 5}),
		"through edges":              line(solid.Vec{-1, -1, 0.5}, solid.Vec{0, 0, 0.5}),
		"in a face's plane":          line(solid.Vec{-1, 0.5, 3}, solid.Vec{0, 0.5, 3}),
		"along diagonals of faces":   line(solid.Vec{-1, -1, 0}, solid.Vec{0, 0, 0}),
		"aslant in a face's plane":   line(solid.Vec{-1, 0.3, 3}, solid.Vec{0, 0.7, 3}),
	} {
		hits := tree.Hits(r)
		if balance(hits) != 0 {
			t.Errorf("%s: %d hits, %d more leave than enter", name, len(hits), balance(hits))
		}
		for i, h := range hits {
			if h.Leaving == (i%2 == 0) && h.T != hits[i-i%2].T && h.T != hits[min(len(hits)-1, i+1)].T {
				t.Errorf("%s: hit %d leaves out of turn: %v", name, i, hits)
			}
		}
	}
}

// A ray to any corner or edge of a closed shape from inside meets the surface
// there: it can't slip through. The distance is that to the corner.
func TestRayIsWatertight(t *testing.T) {
	for name, m := range map[string]solid.Mesh{
		"sphere": solidtest.Sphere(8, 50, solid.Vec{}),
		"small":  solidtest.Sphere(8, 1e-9, solid.Vec{}),
		"far":    solidtest.Sphere(8, 50, solid.Vec{1e9, -1e9, 3e9}),
	} {
		tree, centre := must(solid.NewTree(m)), m.Bounds().Min.Add(m.Bounds().Max).Scale(0.5)
		size := m.Bounds().Size()[0]
		for _, f := range m.Triangles {
			a, b := m.Vertices[f[0]], m.Vertices[f[1]]
			for _, at := range []solid.Vec{a, a.Add(b).Scale(0.5), a.Scale(0.75).Add(b.Scale(0.25))} {
				r := line(centre, at)
				h, hit := tree.FirstHit(r)
				if !hit || !h.Leaving || math.Abs(h.T-1) > 1e-6 {
					t.Fatalf("%s: ray to %v: %+v, %t", name, at, h, hit)
				}
				if n := balance(tree.Hits(r)); n != 1 {
					t.Fatalf("%s: ray to %v leaves %d times more than it enters", name, at, n)
				}
				back := at.Add(at.Sub(centre).Unit().Scale(size))
				if n := balance(tree.Hits(line(back, at))); n != 0 {
					t.Fatalf("%s: line through %v leaves %d times more than it enters", name, at, n)
				}
			}
		}
	}
}

func TestRayReach(t *testing.T) {
	tree := must(solid.NewTree(box(0, 0, 0, 1, 1, 1)))
	for reach, want := range map[float64]int{0: 0, 1: 0, 1.5: 1, 2: 2, 1e300: 2} {
		r := must(solid.NewRay(solid.Vec{0.25, 0.5, -3}, solid.Vec{0, 0, 2}, reach))
		if got := len(tree.Hits(r)); got != want {
			t.Errorf("reach %g: %d hits, want %d", reach, got, want)
		}
		if _, hit := tree.FirstHit(r); hit != (want > 0) {
			t.Errorf("reach %g: first hit %t", reach, hit)
		}
	}
	// The direction's length is nobody's business but T's.
	for _, length := range []float64{5e-324, 1e-300, 1, 1e300} {
		r := must(solid.NewRay(solid.Vec{0.25, 0.5, -3}, solid.Vec{0, 0, length}, math.Inf(1)))
		if h, hit := tree.FirstHit(r); !hit || length >= 1e-300 && !near(h.T*length, 3, 1e-15) {
			t.Errorf("length %g: %+v, %t", length, h, hit)
		}
	}
}

// The tree finds what looking at every triangle finds. Each triangle is a tree
// of its own there, so the triangle test is the same and only the search is
// tried.
func TestRayFindsWhatEveryTriangleFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := someSolid(t)
		size := m.Bounds().Size().Length()
		at := func(label string) solid.Vec {
			if rapid.Bool().Draw(t, label+" is a vertex") {
				return rapid.SampledFrom(m.Vertices).Draw(t, label)
			}
			coord := rapid.Float64Range(-size, size)
			return m.Bounds().Min.Add(solid.Vec{coord.Draw(t, "x"), coord.Draw(t, "y"), coord.Draw(t, "z")})
		}
		from, to := at("from"), at("to")
		if from == to {
			t.Skip("no direction")
		}
		r := line(from, to)
		hits := must(solid.NewTree(m)).Hits(r)
		var want []solid.Hit
		for i := range m.Triangles {
			one := solid.Mesh{Vertices: m.Vertices, Triangles: m.Triangles[i : i+1]}
			for _, h := range must(solid.NewTree(one)).Hits(r) {
				h.Triangle = int32(i)
				want = append(want, h)
			}
		}
		found := map[solid.Hit]bool{}
		for i, h := range hits {
			found[h] = true
			if i > 0 && h.T < hits[i-1].T {
				t.Fatalf("out of order: %v", hits)
			}
		}
		for _, h := range want {
			if !found[h] {
				t.Fatalf("the tree misses %+v", h)
			}
		}
		if len(want) != len(hits) {
			t.Fatalf("%d hits, want %d", len(hits), len(want))
		}
		first, hit := must(solid.NewTree(m)).FirstHit(r)
		if hit != (len(hits) > 0) || hit && first != hits[0] {
			t.Fatalf("first hit %+v, want the first of %v", first, hits)
		}
	})
}

func ExampleTree_FirstHit() {
	cube, _ := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{10, 10, 10})
	tree, _ := solid.NewTree(cube)
	ray, _ := solid.NewRay(solid.Vec{5, 5, 20}, solid.Vec{0, 0, -1}, math.Inf(1))
	hit, found := tree.FirstHit(ray)
	fmt.Println(found, hit.T, hit.At, hit.Leaving)
	// Output: true 10 [5 5 10] false
}

func ExampleTree_Hits() {
	cube, _ := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{10, 10, 10})
	tree, _ := solid.NewTree(cube)
	ray, _ := solid.NewRay(solid.Vec{-1, 2, 3}, solid.Vec{1, 0, 0}, math.Inf(1))
	for _, hit := range tree.Hits(ray) {
		fmt.Println(hit.T, hit.Leaving)
	}
	// Output:
	// 1 false
	// 11 true
}
