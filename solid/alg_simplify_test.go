package solid_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
	"scalewright/solid/solidtest"
)

func simplify(t testing.TB, m solid.Mesh, maxError float64) (solid.Mesh, solid.SimplifyReport) {
	t.Helper()
	out, report, err := solid.Kernel{}.Simplify(context.Background(), m, solid.SimplifyOptions{MaxError: maxError})
	if err != nil {
		t.Fatal(err)
	}
	wantSolid(t, "simplified", out)
	if report.Before != len(m.Triangles) || report.After != len(out.Triangles) {
		t.Errorf("report %+v for %d and %d triangles", report, len(m.Triangles), len(out.Triangles))
	}
	return out, report
}

// blocks is the surface of the unit cubes of a grid that are filled: two
// triangles for every square between a full and an empty place. No two filled
// cubes may meet in an edge or a corner only.
func blocks(size int, filled func(i, j, k int) bool) solid.Mesh {
	var m solid.Mesh
	index := map[[3]int]int32{}
	vertex := func(p [3]int) int32 {
		at, seen := index[p]
		if !seen {
			at = int32(len(m.Vertices))
			index[p] = at
			m.Vertices = append(m.Vertices, solid.Vec{float64(p[0]), float64(p[1]), float64(p[2])})
		}
		return at
	}
	full := func(p [3]int) bool {
		for _, x := range p {
			if x < 0 || x >= size {
				return false
			}
		}
		return filled(p[0], p[1], p[2])
	}
	for i := range size {
		for j := range size {
			for k := range size {
				p := [3]int{i, j, k}
				if !full(p) {
					continue
				}
				for axis := range 3 {
					for side := range 2 {
						q := p
						q[axis] += 2*side - 1
						if full(q) {
							continue
						}
						u, v := (axis+1)%3, (axis+2)%3
						if side == 0 {
							u, v = v, u
						}
						a := p
						a[axis] += side
						b, c, d := a, a, a
						b[u]++
						c[u]++
						c[v]++
						d[v]++
						m.Triangles = append(m.Triangles,
							[3]int32{vertex(a), vertex(b), vertex(c)}, [3]int32{vertex(a), vertex(c), vertex(d)})
					}
				}
			}
		}
	}
	return m
}

func oblique(m solid.Mesh) solid.Mesh {
	return m.Transform(solid.Rotation(solid.Vec{1, 2, 3}, 1)).Translate(solid.Vec{17, -5, 3})
}

func TestSimplifyFlat(t *testing.T) {
	all := func(int, int, int) bool { return true }
	// A plate with a hole through it has 12·2 of a box, and 4·2 in the hole, less
	// what the two faces with holes need: 8 vertices + 2·1 − 2 each.
	hole := func(i, j, _ int) bool { return i < 2 || i > 4 || j < 2 || j > 4 }
	// An L: 6 vertices a side make 4 triangles each, 6 sides of 2.
	ell := func(i, j, _ int) bool { return i < 3 || j < 3 }
	hollow := func(i, j, k int) bool { return min(i, j, k) < 2 || max(i, j, k) > 4 }
	for _, c := range []struct {
		name      string
		mesh      solid.Mesh
		triangles int
	}{
		{"block of 20³", blocks(20, all), 12},
		{"plate with a hole", blocks(7, hole), 2*8 + 8 + 8},
		{"ell", blocks(7, ell), 2*4 + 12},
		{"hollow block", blocks(7, hollow), 24},
		{"two blocks", solid.Join(blocks(3, all), blocks(3, all).Translate(solid.Vec{9, 0, 0})), 24},
	} {
		for name, m := range map[string]solid.Mesh{
			"straight": c.mesh, "oblique": oblique(c.mesh),
			"far":  oblique(c.mesh).Translate(solid.Vec{1e6, 2e6, -1e6}),
			"tiny": oblique(c.mesh).Transform(solid.Scaling(1e-9)),
			"huge": oblique(c.mesh).Transform(solid.Scaling(1e9)),
		} {
			t.Run(c.name+"/"+name, func(t *testing.T) {
				out, report := simplify(t, m, 0)
				if len(out.Triangles) != c.triangles {
					t.Errorf("%d triangles, want %d", len(out.Triangles), c.triangles)
				}
				if !near(out.Volume(), m.Volume(), 1e-9) {
					t.Errorf("volume %v, want %v", out.Volume(), m.Volume())
				}
				if size := m.Bounds().Size().Length(); !(report.Bound > 0 && report.Bound < 1e-11*size+1e-6*math.Abs(m.Bounds().Max[0])) {
					t.Errorf("bound %v for a size of %v", report.Bound, size)
				}
			})
		}
	}
}

func TestSimplifyFlatKeeps(t *testing.T) {
	// Nothing to do: what comes out is what went in.
	for name, m := range map[string]solid.Mesh{
		"empty": {}, "box": box(0, 0, 0, 1, 2, 3), "tetrahedron": must(solid.Loft([]solid.LoftSection{
			{0, []solid.Point{{0, 0}, {1, 0}, {0, 1}}},
			{1, []solid.Point{{0, 0}}},
		})),
		"sphere": must(solid.Sphere(solid.Vec{}, 10, 8)),
	} {
		if out, report := simplify(t, m, 0); fmt.Sprint(out) != fmt.Sprint(m) || report.Bound != 0 || report.Flats != 0 {
			t.Errorf("%s: changed, %+v", name, report)
		}
	}
	// A cone of two micrometres on a metre is no flat ground, but each of its 32
	// sectors is, of two pieces: 30 below, 2·32 round it, 32 above.
	cone := must(solid.Turn([]solid.PointRZ{{R: 0, Z: 0}, {R: 500, Z: 0}, {R: 500, Z: 10}, {R: 250, Z: 10.001}, {R: 0, Z: 10.002}}, 32))
	if out, _ := simplify(t, cone, 0); !near(out.Volume(), cone.Volume(), 1e-13) || len(out.Triangles) != 126 {
		t.Errorf("cone: %d triangles, volume %v of %v", len(out.Triangles), out.Volume(), cone.Volume())
	}
}

func TestSimplifyRefuses(t *testing.T) {
	open := box(0, 0, 0, 1, 1, 1)
	open.Triangles = open.Triangles[1:]
	_, _, err := solid.Kernel{}.Simplify(context.Background(), open, solid.SimplifyOptions{})
	if _, ok := errors.AsType[*solid.NotSolidError](err); !ok {
		t.Errorf("open mesh: %v, want a NotSolidError", err)
	}
	for _, x := range []float64{-1, math.NaN(), math.Inf(1)} {
		_, _, err := solid.Kernel{}.Simplify(context.Background(), box(0, 0, 0, 1, 1, 1), solid.SimplifyOptions{MaxError: x})
		if _, ok := errors.AsType[*solid.ValueError](err); !ok {
			t.Errorf("MaxError %v: %v, want a ValueError", x, err)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, _, err := (solid.Kernel{}).Simplify(ctx, blocks(4, func(int, int, int) bool { return true }), solid.SimplifyOptions{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

// What a boolean or a cut leaves of flat faces is flat ground again: the volume
// stays, and no fault comes. Tempting and false: that a second time finds
// nothing to do. Between two planes that differ by the reach, what is flat is a
// matter of where one begins.
func TestSimplifyFlatOfAny(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := someSolid(t)
		if rapid.Bool().Draw(t, "oblique") {
			m = oblique(m)
		}
		above, below, err := solid.Cut(m, somePlane(t, m))
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range []solid.Mesh{above, below} {
			if !part.Closed() {
				continue // a part thinner than its roundings
			}
			out, report, err := solid.Kernel{}.Simplify(context.Background(), part, solid.SimplifyOptions{})
			if err != nil {
				t.Fatal(err)
			}
			if faults := out.Check(); len(faults) > 0 {
				t.Fatal(faults[0])
			}
			if got, want := out.Volume(), part.Volume(); math.Abs(got-want) > report.Bound*part.Area()+1e-12*want {
				t.Fatalf("volume %v, want %v", got, want)
			}
			again, _, err := solid.Kernel{}.Simplify(context.Background(), out, solid.SimplifyOptions{})
			if err != nil || len(again.Triangles) > len(out.Triangles) || !again.Closed() {
				t.Fatalf("again %d of %d triangles, %v", len(again.Triangles), len(out.Triangles), err)
			}
		}
	})
}

// farthest measures how far any of many points spread over the triangles of one
// surface is from the other.
func farthest(t rapid.TB, from, to solid.Mesh, n int) float64 {
	t.Helper()
	tree := must(solid.NewTree(to))
	most := 0.0
	for _, f := range from.Triangles {
		a, b, c := from.Vertices[f[0]], from.Vertices[f[1]], from.Vertices[f[2]]
		for i := range n + 1 {
			for j := range n + 1 - i {
				u, v := float64(i)/float64(n), float64(j)/float64(n)
				hit, _, err := tree.Nearest(a.Scale(1-u-v).Add(b.Scale(u)).Add(c.Scale(v)), math.Inf(1))
				if err != nil {
					t.Fatal(err)
				}
				most = max(most, hit.Distance)
			}
		}
	}
	return most
}

// wantBound holds a simplified surface to the bound of its report, both ways.
func wantBound(t rapid.TB, m, out solid.Mesh, r solid.SimplifyReport, maxError float64) {
	t.Helper()
	if !(r.Bound <= maxError) {
		t.Errorf("bound %v, want %v at most", r.Bound, maxError)
	}
	far := max(farthest(t, m, out, 3), farthest(t, out, m, 6))
	// The nearest point of a sliver is known to half the digits.
	if far > r.Bound+1e-8*m.Bounds().Size().Length() {
		t.Errorf("%v apart, bound %v", far, r.Bound)
	}
}

func TestSimplifyCurved(t *testing.T) {
	for _, c := range []struct {
		name     string
		mesh     solid.Mesh
		maxError float64
		most     int // triangles
	}{
		// The fewest that a ball of radius r needs for an error of ±e: equilateral
		// triangles of circumradius √(4·e·r), about 4π·r²/(3√3·e·r) of them.
		{"ball", must(solid.Sphere(solid.Vec{1, 2, 3}, 20, 32)), 0.1, 4 * 490},
		{"coarse ball", must(solid.Sphere(solid.Vec{}, 20, 32)), 1, 5 * 49},
		{"torus", torus(50, 10, 40, 80), 0.5, 1300},
		{"torus, oblique and far", oblique(torus(50, 10, 40, 80)).Translate(solid.Vec{1e5, 0, 0}), 0.5, 1300},
		{"wavy tube", solidtest.Tube(64, 60), 0.3, 3000},
		{"hollow ball", solid.Join(must(solid.Sphere(solid.Vec{}, 20, 16)), flip(must(solid.Sphere(solid.Vec{}, 15, 16)))), 0.5, 700},
		// Needles: 600 flats of a tenth of a millimetre, 300 long.
		{"needles", must(solid.Turn([]solid.PointRZ{{0, 0}, {10, 0}, {10, 300}, {0, 300}}, 600)), 0.1, 600},
		// A part smaller than the error allowed keeps its inside.
		{"crumb", solid.Join(must(solid.Sphere(solid.Vec{}, 20, 16)), must(solid.Sphere(solid.Vec{30, 0, 0}, 0.1, 8))), 1, 400},
		{"half a millimetre thin", must(solid.Turn([]solid.PointRZ{{0, 0}, {20, 0}, {20, 0.5}, {0, 0.5}}, 200)), 0.1, 200},
	} {
		t.Run(c.name, func(t *testing.T) {
			out, r := simplify(t, c.mesh, c.maxError)
			wantBound(t, c.mesh, out, r, c.maxError)
			if len(out.Triangles) > c.most {
				t.Errorf("%d triangles, want %d at most: %+v", len(out.Triangles), c.most, r)
			}
			if a, b := len(c.mesh.Components()), len(out.Components()); a != b {
				t.Errorf("%d components of %d", b, a)
			}
			if a, b := must(c.mesh.Genus()), must(out.Genus()); a != b {
				t.Errorf("genus %d of %d", b, a)
			}
			if dv := math.Abs(c.mesh.Volume() - out.Volume()); dv > c.maxError*c.mesh.Area() {
				t.Errorf("volume differs by %v", dv)
			}
		})
	}
}

func TestSimplifyCurvedOfAny(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := someSolid(t)
		if rapid.Bool().Draw(t, "oblique") {
			m = oblique(m)
		}
		maxError := math.Pow(10, rapid.Float64Range(-3, 1).Draw(t, "error"))
		out, r, err := solid.Kernel{}.Simplify(context.Background(), m, solid.SimplifyOptions{MaxError: maxError})
		if err != nil {
			t.Fatal(err)
		}
		if faults := out.Check(); len(faults) > 0 {
			t.Fatal(faults[0])
		}
		wantBound(t, m, out, r, maxError)
	})
}

func TestSimplifySameBitsAndCancel(t *testing.T) {
	m := solid.Join(torus(50, 10, 24, 60), oblique(blocks(5, func(i, j, k int) bool { return i+j+k < 9 })).Translate(solid.Vec{200, 0, 0}))
	want := ""
	for _, workers := range []int{1, 2, 8} {
		out, r, err := solid.Kernel{Workers: workers}.Simplify(context.Background(), m, solid.SimplifyOptions{MaxError: 0.3})
		if err != nil {
			t.Fatal(err)
		}
		got := fmt.Sprintf("%x %+v", out, r)
		if want != "" && got != want {
			t.Errorf("with %d workers the bits differ", workers)
		}
		want = got
	}
	stopEverywhere(t, 3, func(ctx context.Context, k solid.Kernel) error {
		_, _, err := k.Simplify(ctx, m, solid.SimplifyOptions{MaxError: 0.3})
		return err
	})
}

// FuzzSimplify dents a ball, however badly, and holds what comes out to the bound.
func FuzzSimplify(f *testing.F) {
	f.Add([]byte{4, 3})
	f.Add([]byte{3, 200, 7, 1, 9, 40, 250, 128, 3})
	f.Add([]byte{6, 90, 0, 255, 0, 255, 0, 255, 17, 4, 99, 128, 128, 128})
	f.Add([]byte{2, 255, 255, 255, 0, 0, 128, 64})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) < 2 {
			return
		}
		m := must(solid.Sphere(solid.Vec{}, 10, 1+int(data[0]%8)))
		maxError := math.Pow(10, float64(data[1])/64-3) - 1e-3
		for i, b := range data[2:] {
			// Coordinates on a coarse lattice, so that flats and folds are common.
			m.Vertices[i/3%len(m.Vertices)][i%3] += math.Round(float64(int8(b)) / 16)
		}
		out, r, err := solid.Kernel{Workers: 1}.Simplify(context.Background(), m, solid.SimplifyOptions{MaxError: maxError})
		if err != nil {
			if _, ok := errors.AsType[*solid.NotSolidError](err); !ok || m.Closed() {
				t.Fatal(err)
			}
			return
		}
		if faults := out.Check(); len(faults) > 0 {
			t.Fatalf("%d faults, first: %v", len(faults), faults[0])
		}
		wantBound(t, m, out, r, max(maxError, 1e-6))
	})
}

func ExampleKernel_Simplify() {
	// A ball far finer than a printer's hundredth of a millimetre.
	m, _ := solid.Sphere(solid.Vec{}, 5, 40)
	coarse, report, err := solid.Kernel{}.Simplify(context.Background(), m, solid.SimplifyOptions{MaxError: 0.05})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(report.Before, "triangles, closed:", coarse.Closed())
	fmt.Println("fewer than a tenth:", report.After < report.Before/10, "within:", report.Bound <= 0.05)
	// Output:
	// 12800 triangles, closed: true
	// fewer than a tenth: true within: true
}

func BenchmarkSimplify(b *testing.B) {
	all := func(int, int, int) bool { return true }
	for _, c := range []struct {
		name     string
		mesh     solid.Mesh
		maxError float64
	}{
		{"flat", oblique(blocks(40, all)), 0},
		{"ball", must(solid.Sphere(solid.Vec{}, 50, 64)), 0.05},
	} {
		b.Run(fmt.Sprintf("%s-%d", c.name, len(c.mesh.Triangles)), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, _, err := (solid.Kernel{}).Simplify(context.Background(), c.mesh, solid.SimplifyOptions{MaxError: c.maxError}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
