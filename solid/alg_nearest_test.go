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

// To a box from outside the distance is that to the clamped point, from inside
// the least distance to a face.
func TestNearestOnBox(t *testing.T) {
	lo, hi := solid.Vec{-1, 2, 3}, solid.Vec{4, 5, 9}
	tree := must(solid.NewTree(must(solid.Box(lo, hi))))
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.OneOf(rapid.Float64Range(-20, 20), rapid.SampledFrom([]float64{-1, 2, 3, 4, 5, 9}))
		p := solid.Vec{coord.Draw(t, "x"), coord.Draw(t, "y"), coord.Draw(t, "z")}
		var clamped solid.Vec
		inner := math.Inf(1)
		for k := range 3 {
			clamped[k] = min(max(p[k], lo[k]), hi[k])
			inner = min(inner, p[k]-lo[k], hi[k]-p[k])
		}
		want := p.Sub(clamped).Length()
		if want == 0 {
			want = inner
		}
		n, found, err := tree.Nearest(p, math.Inf(1))
		if err != nil || !found || math.Abs(n.Distance-want) > 1e-14 || math.Abs(p.Sub(n.At).Length()-want) > 1e-14 {
			t.Fatalf("nearest to %v: %+v, want %g", p, n, want)
		}
		// A search as wide as the distance finds it, a narrower one nothing.
		if _, found, _ := tree.Nearest(p, want+1e-14); !found {
			t.Fatalf("nothing within %g of %v", want, p)
		}
		if n, found, _ := tree.Nearest(p, want*(1-1e-12)); want > 1e-3 && found {
			t.Fatalf("%+v within less than %g of %v", n, want, p)
		}
	})
}

// To a ball of radius R from a distance r of its centre it is |r − R|, but for
// the depth of the flats under the sphere: e²/2R for an edge of length e, here
// 50·(π/2/32)²·(√3)²/2 at most.
func TestNearestOnSphere(t *testing.T) {
	const radius, lattice = 50.0, 32
	sagitta := radius * math.Pow(math.Pi/2/lattice, 2) * 1.5
	centre := solid.Vec{7, -5, 3}
	tree := must(solid.NewTree(solidtest.Sphere(lattice, radius, centre)))
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-1, 1)
		d := solid.Vec{coord.Draw(t, "x"), coord.Draw(t, "y"), coord.Draw(t, "z")}.Unit()
		r := rapid.Float64Range(0, 500).Draw(t, "r")
		n, found, err := tree.Nearest(centre.Add(d.Scale(r)), math.Inf(1))
		if err != nil || !found || math.Abs(n.Distance-math.Abs(d.Scale(r).Length()-radius)) > sagitta {
			t.Fatalf("at %g: %+v, want %g", r, n, math.Abs(r-radius))
		}
	})
}

// slowNearest is the least distance to a triangle by its parts: the foot on its
// plane where that is in it, its edges, all in terms of projections.
func slowNearest(p, a, b, c solid.Vec) float64 {
	best := math.Inf(1)
	for _, e := range [][2]solid.Vec{{a, b}, {b, c}, {c, a}} {
		d := e[1].Sub(e[0])
		s := 0.0
		if l := d.Dot(d); l > 0 {
			s = min(max(p.Sub(e[0]).Dot(d)/l, 0), 1)
		}
		best = min(best, p.Sub(e[0].Add(d.Scale(s))).Length())
	}
	n := b.Sub(a).Cross(c.Sub(a)).Unit()
	if n == (solid.Vec{}) {
		return best
	}
	h := p.Sub(a).Dot(n)
	foot := p.Sub(n.Scale(h))
	for _, e := range [][2]solid.Vec{{a, b}, {b, c}, {c, a}} {
		if e[1].Sub(e[0]).Cross(foot.Sub(e[0])).Dot(n) < 0 {
			return best
		}
	}
	return min(best, math.Abs(h))
}

func TestNearestFindsWhatEveryTriangleFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := someSolid(t)
		size := m.Bounds().Size().Length()
		coord := rapid.Float64Range(-size, size)
		p := m.Bounds().Min.Add(solid.Vec{coord.Draw(t, "x"), coord.Draw(t, "y"), coord.Draw(t, "z")})
		if rapid.Bool().Draw(t, "a vertex") {
			p = rapid.SampledFrom(m.Vertices).Draw(t, "p")
		}
		want := math.Inf(1)
		for _, f := range m.Triangles {
			want = min(want, slowNearest(p, m.Vertices[f[0]], m.Vertices[f[1]], m.Vertices[f[2]]))
		}
		n, found, err := must(solid.NewTree(m)).Nearest(p, math.Inf(1))
		if err != nil || !found || math.Abs(n.Distance-want) > 1e-11*size {
			t.Fatalf("nearest to %v: %+v, want %g", p, n, want)
		}
		f := m.Triangles[n.Triangle]
		if d := slowNearest(n.At, m.Vertices[f[0]], m.Vertices[f[1]], m.Vertices[f[2]]); d > 1e-12*size {
			t.Fatalf("%v is %g away from triangle %d", n.At, d, n.Triangle)
		}
	})
}

func TestNearestNastyCases(t *testing.T) {
	sliver := solid.Mesh{
		Vertices:  []solid.Vec{{0, 0, 0}, {1, 0, 0}, {0.5, 1e-17, 1e-17}},
		Triangles: [][3]int32{{0, 1, 2}},
	}
	cubes := solid.Join(solidtest.Cube(solid.Vec{}), solidtest.Cube(solid.Vec{1, 0, 0}))
	for name, c := range map[string]struct {
		mesh solid.Mesh
		p    solid.Vec
		want float64
	}{
		"over a sliver":               {sliver, solid.Vec{0.25, 0, 3}, 3},
		"over a sliver's end":         {sliver, solid.Vec{5, 0, 3}, 5},
		"on a face":                   {box(0, 0, 0, 1, 1, 1), solid.Vec{0.25, 0.5, 1}, 0},
		"on an edge":                  {box(0, 0, 0, 1, 1, 1), solid.Vec{0.25, 0, 1}, 0},
		"on a corner":                 {box(0, 0, 0, 1, 1, 1), solid.Vec{1, 0, 1}, 0},
		"between touching cubes":      {cubes, solid.Vec{1, 0.5, 0.5}, 0},
		"far coordinates":             {box(1e9, 1e9, 1e9, 1e9+1, 1e9+1, 1e9+1), solid.Vec{1e9 + 0.5, 1e9 + 0.5, 1e9 + 4}, 3},
		"the same distance six times": {box(-1, -1, -1, 1, 1, 1), solid.Vec{}, 1},
	} {
		n, found, err := must(solid.NewTree(c.mesh)).Nearest(c.p, math.Inf(1))
		if err != nil || !found || n.Distance != c.want {
			t.Errorf("%s: %+v, want %g", name, n, c.want)
		}
		if name == "the same distance six times" && n.Triangle != 0 {
			t.Errorf("%s: triangle %d, want the lowest", name, n.Triangle)
		}
	}
	tree := must(solid.NewTree(cubes))
	var value *solid.ValueError
	if _, _, err := tree.Nearest(solid.Vec{math.NaN(), 0, 0}, 1); !errors.As(err, &value) {
		t.Errorf("NaN: error %v, want a ValueError", err)
	}
	if _, _, err := tree.Nearest(solid.Vec{}, math.NaN()); !errors.As(err, &value) {
		t.Errorf("radius NaN: error %v, want a ValueError", err)
	}
}

func ExampleTree_Nearest() {
	cube, _ := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{10, 10, 10})
	tree, _ := solid.NewTree(cube)
	n, found, _ := tree.Nearest(solid.Vec{4, 4, 13}, 5)
	fmt.Println(found, n.Distance, n.At)
	// Output: true 3 [4 4 10]
}
