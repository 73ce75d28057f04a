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

// gridCoord draws whole and half numbers, so that points fall on faces, edges
// and corners and straight below them.
func gridCoord(lo, hi int) *rapid.Generator[float64] {
	return rapid.Map(rapid.IntRange(2*lo, 2*hi), func(i int) float64 { return float64(i) / 2 })
}

// In a block of unit cubes, joined or missing at random, where a point lies is
// told by the cubes round it, whole numbers alone.
func TestLocateAmongCubes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const n = 3
		var there [n][n][n]bool
		var cubes []solid.Mesh
		for i := range n {
			for j := range n {
				for k := range n {
					if there[i][j][k] = rapid.Bool().Draw(t, "there"); there[i][j][k] {
						cubes = append(cubes, solidtest.Cube(solid.Vec{float64(i), float64(j), float64(k)}))
					}
				}
			}
		}
		p := solid.Vec{gridCoord(-1, n+1).Draw(t, "x"), gridCoord(-1, n+1).Draw(t, "y"), gridCoord(-1, n+1).Draw(t, "z")}
		want := solid.Outside
		for i := range n {
			for j := range n {
				for k := range n {
					d := p.Sub(solid.Vec{float64(i) + 0.5, float64(j) + 0.5, float64(k) + 0.5})
					far := max(math.Abs(d[0]), math.Abs(d[1]), math.Abs(d[2]))
					switch {
					case !there[i][j][k] || far > 0.5:
					case far == 0.5:
						want = solid.OnSurface
					case want == solid.Outside:
						want = solid.Inside
					}
				}
			}
		}
		if got := must(must(solid.NewTree(solid.Join(cubes...))).Locate(p)); got != want {
			t.Fatalf("Locate(%v) = %d, want %d", p, got, want)
		}
	})
}

// slowWinding adds the solid angles (Van Oosterom and Strackee 1983).
func slowWinding(m solid.Mesh, p solid.Vec) float64 {
	sum := 0.0
	for _, f := range m.Triangles {
		a, b, c := m.Vertices[f[0]].Sub(p), m.Vertices[f[1]].Sub(p), m.Vertices[f[2]].Sub(p)
		la, lb, lc := a.Length(), b.Length(), c.Length()
		sum += 2 * math.Atan2(a.Dot(b.Cross(c)), la*lb*lc+a.Dot(b)*lc+b.Dot(c)*la+c.Dot(a)*lb)
	}
	return sum / (4 * math.Pi)
}

func TestLocateAgreesWithSolidAngle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := someSolid(t)
		size := m.Bounds().Size()
		share := rapid.Float64Range(-0.1, 1.1)
		p := m.Bounds().Min
		for k := range 3 {
			p[k] += size[k] * share.Draw(t, "share")
		}
		// Straight below an edge or a corner as well.
		if v := rapid.SampledFrom(m.Vertices).Draw(t, "vertex"); rapid.Bool().Draw(t, "below it") {
			p[0], p[1] = v[0], v[1]
		}
		angle := slowWinding(m, p)
		if math.Abs(angle-math.Round(angle)) > 1e-6 {
			t.Skip("on the surface, or nearly")
		}
		want := solid.Outside
		if math.Round(angle) > 0 {
			want = solid.Inside
		}
		tree := must(solid.NewTree(m))
		if n, _, err := tree.Nearest(p, math.Inf(1)); err != nil || n.Distance < 1e-9 {
			t.Skip("so near that the angles can't tell")
		}
		if got := must(tree.Locate(p)); got != want {
			t.Fatalf("Locate(%v) = %d, want %d: winding %g", p, got, want, angle)
		}
	})
}

func TestLocateNastyCases(t *testing.T) {
	ball := solidtest.Sphere(8, 50, solid.Vec{})
	hollow := solid.Join(solidtest.Sphere(8, 50, solid.Vec{}), turnedOver(solidtest.Sphere(8, 20, solid.Vec{})))
	far := solidtest.Sphere(8, 50, solid.Vec{1e12, 1e12, 1e12})
	up := math.Nextafter(50, 100)
	for name, c := range map[string]struct {
		mesh solid.Mesh
		p    solid.Vec
		want solid.Place
	}{
		"below a vertex, inside":  {ball, solid.Vec{0, 0, 0}, solid.Inside},
		"below a vertex, outside": {ball, solid.Vec{0, 0, -60}, solid.Outside},
		"at a vertex":             {ball, solid.Vec{0, 0, 50}, solid.OnSurface},
		"a rounding above it":     {ball, solid.Vec{0, 0, up}, solid.Outside},
		"below the rim":           {ball, solid.Vec{50, 0, -1}, solid.Outside},
		"beside the rim":          {ball, solid.Vec{up, 0, 0}, solid.Outside},
		"at the rim":              {ball, solid.Vec{50, 0, 0}, solid.OnSurface},
		"in a cavity":             {hollow, solid.Vec{1, 2, 3}, solid.Outside},
		"between the shells":      {hollow, solid.Vec{30, 0, 0}, solid.Inside},
		"far away, inside":        {far, solid.Vec{1e12, 1e12, 1e12}, solid.Inside},
		"far away, outside":       {far, solid.Vec{1e12, 1e12, 1e12 - 51}, solid.Outside},
		"very far from it":        {ball, solid.Vec{0, 0, -1e50}, solid.Outside},
		"below a wall":            {box(0, 0, 0, 1, 1, 1), solid.Vec{0, 0.5, -1}, solid.Outside},
		"below an edge":           {box(0, 0, 0, 1, 1, 1), solid.Vec{0, 0, -1}, solid.Outside},
		"overlapping shells":      {solid.Join(box(0, 0, 0, 2, 2, 2), box(1, 1, 1, 3, 3, 3)), solid.Vec{1.5, 1.5, 1.5}, solid.Inside},
	} {
		if got := must(must(solid.NewTree(c.mesh)).Locate(c.p)); got != c.want {
			t.Errorf("%s: Locate(%v) = %d, want %d", name, c.p, got, c.want)
		}
	}
	var value *solid.ValueError
	if _, err := must(solid.NewTree(ball)).Locate(solid.Vec{0, math.NaN(), 0}); !errors.As(err, &value) {
		t.Errorf("NaN: error %v, want a ValueError", err)
	}
}

// turnedOver is the mesh with its inside out.
func turnedOver(m solid.Mesh) solid.Mesh {
	out := solid.Mesh{Vertices: m.Vertices}
	for _, f := range m.Triangles {
		out.Triangles = append(out.Triangles, [3]int32{f[0], f[2], f[1]})
	}
	return out
}

func ExampleTree_Locate() {
	cube, _ := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{10, 10, 10})
	tree, _ := solid.NewTree(cube)
	for _, p := range []solid.Vec{{5, 5, 5}, {10, 10, 10}, {5, 5, 11}} {
		place, _ := tree.Locate(p)
		fmt.Println(place == solid.Inside, place == solid.OnSurface)
	}
	// Output:
	// true false
	// false true
	// false false
}
