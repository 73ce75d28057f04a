package solid_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
)

func shell(t testing.TB, m solid.Mesh, o solid.ShellOptions) (cavity solid.Mesh, r solid.ShellReport) {
	t.Helper()
	out, report, err := solid.Kernel{}.Shell(context.Background(), m, o)
	if err != nil {
		t.Fatal(err)
	}
	wantSolid(t, "shell", out)
	n := len(m.Triangles)
	for i, f := range m.Triangles {
		if out.Triangles[i] != f {
			t.Fatalf("triangle %d of the outside changed", i)
		}
	}
	for i, p := range m.Vertices {
		if out.Vertices[i] != p {
			t.Fatalf("vertex %d of the outside changed", i)
		}
	}
	cavity = solid.Mesh{Vertices: out.Vertices, Triangles: out.Triangles[n:]}
	if !near(report.Before, m.Volume(), 1e-12) || !near(report.After, out.Volume(), 1e-9) {
		t.Errorf("report %+v for volumes %v and %v", report, m.Volume(), out.Volume())
	}
	if cavity.Empty() != (report.Cavities == 0) {
		t.Errorf("report %+v for a cavity of %d triangles", report, len(cavity.Triangles))
	}
	return cavity, report
}

// wantWall measures the wall by brute sampling: points spread over every triangle
// of the cavity, each against the nearest triangle of the outside.
func wantWall(t testing.TB, outside, cavity solid.Mesh, wall float64, r solid.ShellReport) {
	t.Helper()
	tree := must(solid.NewTree(outside))
	least := math.Inf(1)
	const n = 2
	for _, f := range cavity.Triangles {
		a, b, c := cavity.Vertices[f[0]], cavity.Vertices[f[1]], cavity.Vertices[f[2]]
		for i := range n + 1 {
			for j := range n + 1 - i {
				u, v := float64(i)/n, float64(j)/n
				p := a.Scale(1 - u - v).Add(b.Scale(u)).Add(c.Scale(v))
				hit, _, err := tree.Nearest(p, math.Inf(1))
				if err != nil {
					t.Fatal(err)
				}
				least = min(least, hit.Distance)
			}
		}
	}
	if least < wall {
		t.Errorf("a wall of %v, want %v or more", least, wall)
	}
	if len(cavity.Triangles) > 0 && (r.Thinnest < wall || r.Thinnest > least*(1+1e-12) || r.Thickest < r.Thinnest) {
		t.Errorf("report %+v, sampled %v", r, least)
	}
}

func TestShellVolumes(t *testing.T) {
	ball := func(r float64) float64 { return 4.0 / 3 * math.Pi * r * r * r }
	// A polygon of n corners at radius r has its sides at r·cos(π/n); moved by w
	// they are at r·cos(π/n) + w.
	area := func(n, apothem float64) float64 { return n * apothem * apothem * math.Tan(math.Pi/n) }
	apothem := 20 * math.Cos(math.Pi/24)
	// Between a square and one half its size, the offset of which has round corners.
	between := 16 * (4*math.Pow(10*math.Sqrt2-2, 2) - 200 - 4*10*math.Sqrt2*2 - math.Pi*4)
	for _, c := range []struct {
		name       string
		mesh       solid.Mesh
		o          solid.ShellOptions
		least, all float64 // volume of the cavity
	}{
		// The true cavity is what lies deeper than the wall. Of it at most chamfers
		// along inner edges are missing, less than what lies deeper than the wall and
		// 1.2 cells.
		{"box", box(0, 0, 0, 20, 15, 10), solid.ShellOptions{Wall: 2, Cell: 1}, 15.8 * 10.8 * 5.8, 16 * 11 * 6},
		{"box, finer", box(0, 0, 0, 20, 15, 10), solid.ShellOptions{Wall: 2}, 15.9 * 10.9 * 5.9, 16 * 11 * 6},
		{"sphere", must(solid.Sphere(solid.Vec{1, 2, 3}, 15, 24)), solid.ShellOptions{Wall: 3}, ball(11.8), ball(12)},
		{"square tube", tube(20, 10, 20, 4), solid.ShellOptions{Wall: 2}, 0.95 * between, between},
		{"rod of 24 flats", must(solid.Turn([]solid.PointRZ{{0, 0}, {20, 0}, {20, 30}, {0, 30}}, 24)), solid.ShellOptions{Wall: 4}, area(24, apothem-4.2) * 21.7, area(24, apothem-4) * 22},
	} {
		t.Run(c.name, func(t *testing.T) {
			cavity, r := shell(t, c.mesh, c.o)
			wantWall(t, c.mesh, cavity, c.o.Wall, r)
			if v := -cavity.Volume(); v > c.all || v < c.least {
				t.Errorf("cavity of %v, want from %v to %v (%+v)", v, c.least, c.all, r)
			}
			if r.Cavities != 1 || r.Filled != 0 {
				t.Errorf("report %+v, want one cavity", r)
			}
		})
	}
}

// shellCase is a solid and a wall it may be too thin for.
type shellCase struct {
	mesh solid.Mesh
	o    solid.ShellOptions
}

var shellCases = rapid.Custom(func(t *rapid.T) shellCase {
	m := someSolid(t)
	if rapid.Bool().Draw(t, "cut") {
		above, _, err := solid.Cut(m, somePlane(t, m))
		if err == nil && above.Closed() && !above.Empty() {
			m = above
		}
	}
	if rapid.Bool().Draw(t, "oblique") {
		m = oblique(m)
	}
	// Half the thickness of a plate is its volume over its area.
	share := rapid.Float64Range(0.4, 1.2).Draw(t, "wall")
	wall := max(share*m.Volume()/m.Area(), 0.03*m.Bounds().Size().Length())
	return shellCase{m, solid.ShellOptions{Wall: wall, Cell: wall * rapid.Float64Range(0.4, 0.5).Draw(t, "cell")}}
})

// There is everything that lies deep enough and nothing else, whatever the solid.
// Each case takes a while, so few are drawn.
func TestShellHasAllThatIsDeep(t *testing.T) {
	hollow, deep := 0, 0
	for seed := range 16 {
		c := shellCases.Example(seed)
		out, r, err := solid.Kernel{}.Shell(context.Background(), c.mesh, c.o)
		if err != nil {
			t.Fatal(seed, err)
		}
		if faults := out.Check(); len(faults) > 0 {
			t.Fatal(seed, faults[0])
		}
		if r.Cavities > 0 {
			hollow++
			if r.Thinnest < c.o.Wall {
				t.Errorf("case %d: %+v for a wall of %v", seed, r, c.o.Wall)
			}
		}
		solidTree, shellTree := must(solid.NewTree(c.mesh)), must(solid.NewTree(out))
		b, random := c.mesh.Bounds(), rand.New(rand.NewPCG(1, uint64(seed)))
		for range 200 {
			var p solid.Vec
			for k := range 3 {
				p[k] = b.Min[k] + random.Float64()*(b.Max[k]-b.Min[k])
			}
			hit, _, err := solidTree.Nearest(p, math.Inf(1))
			if err != nil {
				t.Fatal(err)
			}
			if must(solidTree.Locate(p)) != solid.Inside {
				continue
			}
			place := must(shellTree.Locate(p))
			if hit.Distance < c.o.Wall && place != solid.Inside {
				t.Errorf("case %d: depth %v of a wall of %v: %v", seed, hit.Distance, c.o.Wall, place)
			}
			if hit.Distance >= c.o.Wall+1.2*c.o.Cell && r.Filled == 0 {
				deep++
				if place != solid.Outside {
					t.Errorf("case %d: depth %v, wall and cell %+v: %v", seed, hit.Distance, c.o, place)
				}
			}
		}
	}
	if hollow < 5 || deep < 20 {
		t.Errorf("only %d solids hollowed, %d deep points met", hollow, deep)
	}
}

func TestShellOfAwkwardSolids(t *testing.T) {
	// Two balls on a rod too thin to be hollow.
	dumbbell := must(solid.Turn([]solid.PointRZ{
		{0, -12}, {8, -8}, {8, 0}, {1, 4}, {1, 14}, {8, 18}, {8, 26}, {0, 30},
	}, 12))
	// A block with a fin of half a millimetre.
	fin := must(solid.Prism(solid.Region{Outer: []solid.Point{
		{0, 0}, {10, 0}, {10, 4.5}, {30, 4.5}, {30, 5}, {10, 5}, {10, 10}, {0, 10},
	}}, 0, 10))
	// Needles: triangles a four thousandth as wide as long.
	needles := must(solid.Turn([]solid.PointRZ{{0, 0}, {10, 0}, {10, 300}, {0, 300}}, 900)).
		Transform(solid.Transform{M: [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 0.05}}})
	// A block that is hollow already, 4 thick.
	hollow := solid.Join(box(0, 0, 0, 20, 20, 20), flip(box(8, 8, 8, 12, 12, 12)))
	for _, c := range []struct {
		name     string
		mesh     solid.Mesh
		o        solid.ShellOptions
		cavities int
	}{
		{"dumbbell", dumbbell, solid.ShellOptions{Wall: 2}, 2},
		{"fin", fin, solid.ShellOptions{Wall: 2}, 1},
		{"needles", needles, solid.ShellOptions{Wall: 3}, 1},
		{"hollow block", hollow, solid.ShellOptions{Wall: 2}, 1},
		{"two blocks", solid.Join(box(0, 0, 0, 9, 9, 9), box(10, 0, 0, 19, 9, 9)), solid.ShellOptions{Wall: 2}, 2},
		{"wall larger than the part", box(0, 0, 0, 5, 5, 5), solid.ShellOptions{Wall: 30}, 0},
		{"wall half the part", box(0, 0, 0, 6, 6, 6), solid.ShellOptions{Wall: 3}, 0},
		{"far from the origin", box(1e6, -1e6, 1e6, 1e6+10, -1e6+10, 1e6+10), solid.ShellOptions{Wall: 2}, 1},
		{"tiny", box(0, 0, 0, 1e-6, 1e-6, 1e-6), solid.ShellOptions{Wall: 2e-7}, 1},
		{"huge", box(0, 0, 0, 1e9, 1e9, 1e9), solid.ShellOptions{Wall: 2e8}, 1},
		{"empty", solid.Mesh{}, solid.ShellOptions{Wall: 1}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			cavity, r := shell(t, c.mesh, c.o)
			wantWall(t, c.mesh, cavity, c.o.Wall, r)
			if r.Cavities != c.cavities {
				t.Errorf("report %+v, want %d cavities", r, c.cavities)
			}
		})
	}
}

func flip(m solid.Mesh) solid.Mesh {
	out := solid.Mesh{Vertices: m.Vertices}
	for _, f := range m.Triangles {
		out.Triangles = append(out.Triangles, [3]int32{f[0], f[2], f[1]})
	}
	return out
}

func TestShellRefuses(t *testing.T) {
	m, nan := box(0, 0, 0, 10, 10, 10), math.NaN()
	for _, c := range []struct {
		mesh solid.Mesh
		o    solid.ShellOptions
	}{
		{m, solid.ShellOptions{}},
		{m, solid.ShellOptions{Wall: -1}},
		{m, solid.ShellOptions{Wall: nan}},
		{m, solid.ShellOptions{Wall: math.Inf(1)}},
		{m, solid.ShellOptions{Wall: 1, Cell: 0.6}},
		{m, solid.ShellOptions{Wall: 1, Cell: -1}},
		{m, solid.ShellOptions{Wall: 1, Cell: nan}},
		{m, solid.ShellOptions{Wall: 1, Cell: 1e-6}},
		{m, solid.ShellOptions{Wall: 1, Cell: 1e-5}}, // more cells than memory
		{m.Translate(solid.Vec{1e12, 0, 0}), solid.ShellOptions{Wall: 1}},
	} {
		_, _, err := solid.Kernel{}.Shell(context.Background(), c.mesh, c.o)
		if _, ok := errors.AsType[*solid.ValueError](err); !ok {
			t.Errorf("%+v: %v, want a ValueError", c.o, err)
		}
	}
	m.Triangles = m.Triangles[1:]
	_, _, err := solid.Kernel{}.Shell(context.Background(), m, solid.ShellOptions{Wall: 1})
	if _, ok := errors.AsType[*solid.NotSolidError](err); !ok {
		t.Errorf("open mesh: %v, want a NotSolidError", err)
	}
}

func TestShellSameBitsAndCancel(t *testing.T) {
	m := oblique(frameSolid())
	var want []byte
	for _, workers := range []int{1, 2, 8} {
		out, r, err := solid.Kernel{Workers: workers}.Shell(context.Background(), m, solid.ShellOptions{Wall: 0.8, Cell: 0.4})
		if err != nil {
			t.Fatal(err)
		}
		got := fmt.Appendf(nil, "%x %+v", out, r)
		if want != nil && !bytes.Equal(got, want) {
			t.Errorf("with %d workers the bits differ", workers)
		}
		want = got
	}
	stopEverywhere(t, 5, func(ctx context.Context, k solid.Kernel) error {
		_, _, err := k.Shell(ctx, m, solid.ShellOptions{Wall: 0.8, Cell: 0.4})
		return err
	})
}

func ExampleKernel_Shell() {
	// A round body of 60 mm, hollowed to walls of 3 mm.
	m, _ := solid.Turn([]solid.PointRZ{{R: 0, Z: 0}, {R: 30, Z: 0}, {R: 30, Z: 60}, {R: 0, Z: 60}}, 64)
	hollow, report, err := solid.Kernel{}.Shell(context.Background(), m, solid.ShellOptions{Wall: 3, Cell: 1.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("closed: %v, cavities: %d\n", hollow.Closed(), report.Cavities)
	fmt.Printf("from %.0f to %.0f cm³, thinnest wall %.2f mm\n", report.Before/1000, report.After/1000, report.Thinnest)
	// Output:
	// closed: true, cavities: 1
	// from 169 to 46 cm³, thinnest wall 3.00 mm
}

func BenchmarkShell(b *testing.B) {
	for _, n := range []int{16, 64} {
		m := must(solid.Sphere(solid.Vec{}, 30, n))
		b.Run(fmt.Sprint(len(m.Triangles)), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, _, err := (solid.Kernel{}).Shell(context.Background(), m, solid.ShellOptions{Wall: 3}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
