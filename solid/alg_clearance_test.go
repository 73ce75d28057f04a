package solid_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
	"scalewright/solid/solidtest"
)

func clearance(t testing.TB, a, b solid.Mesh) solid.Clearance {
	t.Helper()
	c, err := solid.Kernel{}.Clearance(t.Context(), a, b)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Two balls are as far apart as their centres less the radii, but for the depth
// of the flats; along an axis corner stands against corner, and it is exact.
func TestClearanceOfBalls(t *testing.T) {
	const lattice = 8
	ball := func(r float64, at solid.Vec) solid.Mesh { return solidtest.Sphere(lattice, r, at) }
	c := clearance(t, ball(10, solid.Vec{}), ball(5, solid.Vec{0, 0, 18}))
	if c.Distance != 3 || c.At != [2]solid.Vec{{0, 0, 10}, {0, 0, 13}} || c.Holds {
		t.Errorf("along z: %+v, want 3 from (0,0,10) to (0,0,13)", c)
	}
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-1, 1)
		d := solid.Vec{coord.Draw(t, "x"), coord.Draw(t, "y"), coord.Draw(t, "z")}.Unit()
		far := rapid.Float64Range(16, 60).Draw(t, "far")
		at := d.Scale(far)
		if at.Length() < 16 {
			t.Skip("no direction")
		}
		c := must(solid.Kernel{Workers: 1}.Clearance(context.Background(), ball(10, solid.Vec{}), ball(5, at)))
		sagitta := 15 * math.Pow(math.Pi/2/lattice, 2) * 1.5
		if want := at.Length() - 15; c.Distance < want-1e-12 || c.Distance > want+sagitta {
			t.Fatalf("%+v, want from %g to %g", c, want, want+sagitta)
		}
		if !near(c.At[1].Sub(c.At[0]).Length(), c.Distance, 1e-14) {
			t.Fatalf("%+v: the points are %g apart", c, c.At[1].Sub(c.At[0]).Length())
		}
	})
}

func TestClearanceNastyCases(t *testing.T) {
	ridge := must(solid.Prism(solid.Region{Outer: []solid.Point{{-1, 0}, {1, 0}, {0, 1}}}, -5, 5))
	upright := solid.Mesh{Triangles: ridge.Triangles} // its ridge along x, pointing down to z = 3
	for _, v := range ridge.Vertices {
		upright.Vertices = append(upright.Vertices, solid.Vec{v[2], -v[0], 4 - v[1]})
	}
	lying := solid.Mesh{Triangles: ridge.Triangles} // its ridge along y, pointing up to z = 1
	for _, v := range ridge.Vertices {
		lying.Vertices = append(lying.Vertices, solid.Vec{v[0], -v[2], v[1]})
	}
	wantSolid(t, "upright", upright)
	wantSolid(t, "lying", lying)
	shell := solid.Join(box(0, 0, 0, 9, 9, 9), turnedOver(box(1, 1, 1, 8, 8, 8)))
	for name, c := range map[string]struct {
		a, b  solid.Mesh
		want  float64
		holds bool
	}{
		"edge to edge":          {upright, lying, 2, false},
		"face to face":          {box(0, 0, 0, 1, 1, 1), box(3, 0, 0, 4, 1, 1), 2, false},
		"corner to corner":      {box(0, 0, 0, 1, 1, 1), box(2, 3, 3, 4, 5, 5), 3, false},
		"touching cubes":        {box(0, 0, 0, 1, 1, 1), box(1, 0, 0, 2, 1, 1), 0, false},
		"crossing":              {box(0, 0, 0, 9, 9, 9), box(4, 4, 4, 5, 5, 20), 0, false},
		"one within another":    {box(0, 0, 0, 9, 9, 9), box(4, 4, 4, 5, 5, 5), 0, true},
		"one within, a cavity":  {shell, box(4, 4, 4, 5, 5, 5), 3, false},
		"far away":              {box(1e9, 0, 0, 1e9+1, 1, 1), box(1e9+3, 0, 0, 1e9+4, 1, 1), 2, false},
		"far from each other":   {box(0, 0, 0, 1, 1, 1), box(1e9, 0, 0, 1e9+1, 1, 1), 1e9 - 1, false},
		"a rounding apart":      {box(0, 0, 0, 1, 1, 1), box(1.0000000000000002, 0, 0, 2, 1, 1), 0x1p-52, false},
		"two parts, one within": {box(0, 0, 0, 9, 9, 9), solid.Join(box(20, 0, 0, 21, 1, 1), box(4, 4, 4, 5, 5, 5)), 0, true},
	} {
		for i, pair := range [][2]solid.Mesh{{c.a, c.b}, {c.b, c.a}} {
			got := clearance(t, pair[0], pair[1])
			if got.Distance != c.want || got.Holds != c.holds {
				t.Errorf("%s (%d): %+v, want %g, holds %t", name, i, got, c.want, c.holds)
			}
			if c.want == 0 && !c.holds && got.At[0] != got.At[1] {
				t.Errorf("%s (%d): no common point: %+v", name, i, got)
			}
		}
	}
}

// The search finds what looking at every pair finds: each triangle as a solid of
// its own, twice, back to back.
func TestClearanceFindsWhatEveryPairFinds(t *testing.T) {
	leaf := func(m solid.Mesh, i int) solid.Mesh {
		f := m.Triangles[i]
		return solid.Mesh{Vertices: m.Vertices, Triangles: [][3]int32{f, {f[0], f[2], f[1]}}}
	}
	rapid.Check(t, func(t *rapid.T) {
		a := tube(30, 20, 40, rapid.IntRange(3, 4).Draw(t, "segments"))
		coord := rapid.Float64Range(-80, 80)
		b := box(0, 0, 0, 10, 20, 30).Translate(solid.Vec{coord.Draw(t, "x"), coord.Draw(t, "y"), coord.Draw(t, "z")})
		one := solid.Kernel{Workers: 1}
		got := must(one.Clearance(context.Background(), a, b))
		if got.Holds {
			return
		}
		want := math.Inf(1)
		for i := range a.Triangles {
			for j := range b.Triangles {
				want = min(want, must(one.Clearance(context.Background(), leaf(a, i), leaf(b, j))).Distance)
			}
		}
		if math.Abs(got.Distance-want) > 1e-13 { // turned over, a triangle rounds otherwise
			t.Fatalf("%+v, want %.17g", got, want)
		}
	})
}

func TestClearanceAtAnyNumberOfWorkers(t *testing.T) {
	a := solidtest.Tube(32, 12)
	for name, b := range map[string]solid.Mesh{
		"in the bore":  tube(57, 50, 300, 32), // hundreds of pairs at the same distance
		"at the end":   tube(60, 20, 40, 32).Translate(solid.Vec{0, 0, 300}),
		"crosswise":    solidtest.Drills()[7],
		"some way off": solidtest.Sphere(8, 20, solid.Vec{90, 90, 90}),
	} {
		want := ""
		for _, workers := range []int{1, 2, 8, 8, 8} {
			k := solid.Kernel{Workers: workers}
			c, err := k.Clearance(t.Context(), a, b)
			if err != nil {
				t.Fatal(err)
			}
			o, err := k.Overlap(t.Context(), a, b)
			if err != nil {
				t.Fatal(err)
			}
			got := fmt.Sprintf("%x %x %t %v %v", c.Distance, c.At, c.Holds, c.Triangles, o)
			if want == "" {
				want = got
			}
			if got != want {
				t.Errorf("%s: %d workers give other bits", name, workers)
			}
			if (o.Meeting == solid.Apart) != (c.Distance > 0) {
				t.Errorf("%s: %v at a clearance of %g", name, o.Meeting, c.Distance)
			}
		}
	}
}

func ExampleKernel_Clearance() {
	a, _ := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{10, 10, 10})
	b, _ := solid.Box(solid.Vec{13, 14, 0}, solid.Vec{20, 20, 10})
	c, _ := solid.Kernel{}.Clearance(context.Background(), a, b)
	fmt.Println(c.Distance)
	// Output: 5
}
