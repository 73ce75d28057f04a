package solid_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"scalewright/solid"
	"scalewright/solid/solidtest"
)

var kernel solid.Kernel

func unite(t testing.TB, solids ...solid.Mesh) solid.Mesh {
	t.Helper()
	return boolean(t, "union", solids...)
}

// boolean runs one of the three operations and wants a solid.
func boolean(t testing.TB, name string, solids ...solid.Mesh) solid.Mesh {
	t.Helper()
	ctx := context.Background()
	var m solid.Mesh
	var err error
	switch name {
	case "union":
		m, err = kernel.Union(ctx, solids...)
	case "subtract":
		m, err = kernel.Subtract(ctx, solids[0], solids[1:]...)
	default:
		m, err = kernel.Intersect(ctx, solids...)
	}
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	wantSolid(t, name, m)
	return m
}

// TestBooleanCubes are the cases in which faces, edges and vertices coincide; the
// counts are those of the solids a person expects.
func TestBooleanCubes(t *testing.T) {
	cube := func(x, y, z float64) solid.Mesh { return solidtest.Cube(solid.Vec{x, y, z}) }
	c := cube(0, 0, 0)
	for _, test := range []struct {
		name, operation       string
		other                 solid.Mesh
		triangles, components int
		volume                float64
	}{
		{"itself", "subtract", c, 0, 0, 0},
		{"itself", "union", c, 12, 1, 1},
		{"itself", "intersect", c, 12, 1, 1},
		{"across a face", "subtract", cube(1, 0, 0), 12, 1, 1},
		{"across a face", "union", cube(1, 0, 0), 12, 1, 2},
		{"across a face", "intersect", cube(1, 0, 0), 0, 0, 0},
		{"across an edge", "subtract", cube(1, 1, 0), 12, 1, 1},
		{"across an edge", "union", cube(1, 1, 0), 24, 2, 2},
		{"across an edge", "intersect", cube(1, 1, 0), 0, 0, 0},
		{"across a vertex", "subtract", cube(1, 1, 1), 12, 1, 1},
		{"across a vertex", "union", cube(1, 1, 1), 24, 2, 2},
		{"across a vertex", "intersect", cube(1, 1, 1), 0, 0, 0},
		{"half a cube along x", "subtract", cube(.5, 0, 0), 12, 1, .5},
		{"half a cube along x", "intersect", cube(.5, 0, 0), 12, 1, .5},
		{"half a cube each way", "intersect", cube(.5, .5, .5), 12, 1, .125},
		{"half a cube each way", "subtract", cube(.5, .5, .5), 24, 1, .875},
		{"within", "subtract", box(.25, .25, .25, .75, .75, .75), 24, 2, .875},
		{"within, on the bottom", "subtract", box(.25, .25, 0, .75, .75, .5), 28, 1, .875},
		{"right through", "subtract", box(.25, .25, 0, .75, .75, 1), 32, 1, .75},
		{"far away", "intersect", cube(5, 0, 0), 0, 0, 0},
		{"far away", "union", cube(5, 0, 0), 24, 2, 2},
		{"the empty solid", "union", solid.Mesh{}, 12, 1, 1},
		{"the empty solid", "subtract", solid.Mesh{}, 12, 1, 1},
		{"the empty solid", "intersect", solid.Mesh{}, 0, 0, 0},
	} {
		m := boolean(t, test.operation, c, test.other)
		if len(m.Triangles) != test.triangles || len(m.Components()) != test.components || m.Volume() != test.volume {
			t.Errorf("cube %s %s: %d triangles, %d components, volume %v; want %d, %d, %v", test.operation, test.name,
				len(m.Triangles), len(m.Components()), m.Volume(), test.triangles, test.components, test.volume)
		}
	}
}

// TestBooleanGrid unites a block of cubes that touch in every way.
func TestBooleanGrid(t *testing.T) {
	const n = 5
	var cubes []solid.Mesh
	for i := range n * n * n {
		cubes = append(cubes, solidtest.Cube(solid.Vec{float64(i % n), float64(i / n % n), float64(i / n / n)}))
	}
	m := unite(t, cubes...)
	if m.Volume() != n*n*n || len(m.Components()) != 1 || m.Area() != 6*n*n {
		t.Errorf("block: volume %v, area %v, %d components", m.Volume(), m.Area(), len(m.Components()))
	}
	if flat, _ := simplify(t, m, 0); len(flat.Triangles) != 12 {
		t.Errorf("the block is left with %d triangles, want the 12 of a box", len(flat.Triangles))
	}
}

// TestBooleanSpheres are recipes (a) on a coarse lattice. With n = 256 the volumes
// agree with exact clipping to 15 digits; bench/kernel has that run.
func TestBooleanSpheres(t *testing.T) {
	a := solidtest.Sphere(32, 50, solid.Vec{})
	for _, at := range []solid.Vec{{20, 0, 0}, {20, .7, .3}, {0, 0, 0}, {50, 0, 0}} {
		b := solidtest.Sphere(32, 50, at)
		both := boolean(t, "intersect", a, b).Volume()
		if v := unite(t, a, b).Volume(); !near(v+both, a.Volume()+b.Volume(), 1e-13) {
			t.Errorf("at %v: union %v and intersection %v of %v and %v", at, v, both, a.Volume(), b.Volume())
		}
		if v := boolean(t, "subtract", a, b).Volume(); !near(v+both, a.Volume(), 1e-13) {
			t.Errorf("at %v: difference %v and intersection %v of %v", at, v, both, a.Volume())
		}
	}
	// Sphere B is the mirror image of A in x = 10, so A ∩ B is twice the part
	// of A beyond it, which a cut gives without any boolean.
	beyond, _, err := solid.Cut(a, solid.Plane{Normal: solid.Vec{1, 0, 0}, Offset: 10})
	if err != nil {
		t.Fatal(err)
	}
	got := boolean(t, "intersect", a, solidtest.Sphere(32, 50, solid.Vec{20, 0, 0})).Volume()
	if !near(got, 2*beyond.Volume(), 1e-13) {
		t.Errorf("A ∩ B has volume %v, twice the part of A beyond the mirror %v", got, 2*beyond.Volume())
	}
}

// TestBooleanDrills is recipe (b) on a coarser tube: all drills at once give what
// one after the other gives.
func TestBooleanDrills(t *testing.T) {
	pipe, drills := solidtest.Tube(64, 20), solidtest.Drills()
	at := boolean(t, "subtract", append([]solid.Mesh{pipe}, drills...)...)
	// 100 holes in a tube, which has one already, less the two where four drills
	// meet in pairs: what npm manifold-3d 3.x finds on the fine tube.
	if genus := must(at.Genus()); genus != 99 {
		t.Errorf("genus %d, want 99", genus)
	}
	one := pipe
	for _, d := range drills[:10] {
		one = boolean(t, "subtract", one, d)
	}
	ten := boolean(t, "subtract", append([]solid.Mesh{pipe}, drills[:10]...)...)
	if !near(one.Volume(), ten.Volume(), 1e-13) {
		t.Errorf("ten drills one by one leave %v, at once %v", one.Volume(), ten.Volume())
	}
}

// TestBooleanNearlyItself takes from a sphere the same one turned by 1e-9: nearly
// every edge passes a face at an angle of 1e-9, and the result is still closed.
func TestBooleanNearlyItself(t *testing.T) {
	a := solidtest.Sphere(16, 50, solid.Vec{})
	b := solid.Mesh{Triangles: a.Triangles}
	for _, p := range a.Vertices {
		b.Vertices = append(b.Vertices, solid.Vec{p[0] - float64(1e-9*p[1]), p[1] + float64(1e-9*p[0]), p[2]})
	}
	if m := boolean(t, "subtract", a, b); m.Volume() < 0 || m.Volume() > a.Area()*1e-7 {
		t.Errorf("a skin of volume %v", m.Volume())
	}
}

// somePair draws two solids that may touch in every way: on a lattice, or turned
// and moved anyhow.
func somePair(r *rand.Rand) (a, b solid.Mesh) {
	some := func() solid.Mesh {
		switch r.IntN(5) {
		case 0:
			p := solid.Vec{float64(r.IntN(4)), float64(r.IntN(4)), float64(r.IntN(4))}
			return box(p[0], p[1], p[2], p[0]+1+float64(r.IntN(3)), p[1]+1+float64(r.IntN(3)), p[2]+1+float64(r.IntN(3)))
		case 1:
			return solidtest.Sphere(1+r.IntN(5), 2, solid.Vec{2, 2, 2})
		case 2:
			return tube(2, 1, 3, 3+r.IntN(9))
		case 3:
			return frameSolid().Transform(solid.Scaling(.25))
		default:
			return torus(2, 1, 3+r.IntN(4), 3+r.IntN(6))
		}
	}
	a, b = some(), some()
	switch r.IntN(3) {
	case 0: // as they are: on the lattice
	case 1:
		b = b.Transform(solid.QuarterTurns(r.IntN(3), r.IntN(4))).Translate(solid.Vec{float64(r.IntN(3)), float64(r.IntN(3)), 0})
	default:
		axis := solid.Vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}
		b = b.Transform(solid.Rotation(axis, r.Float64()*math.Pi)).Translate(solid.Vec{r.Float64(), r.Float64(), r.Float64()})
	}
	return a, b
}

// TestBooleanPairs runs the three operations on random pairs: every result is
// solid, and volumes add up.
func TestBooleanPairs(t *testing.T) {
	pairs := 2000
	if testing.Short() {
		pairs = 200
	}
	r := rand.New(rand.NewPCG(1, 2))
	for i := range pairs {
		a, b := somePair(r)
		all, both, rest := unite(t, a, b).Volume(), boolean(t, "intersect", a, b).Volume(), boolean(t, "subtract", a, b).Volume()
		if scale := a.Volume() + b.Volume(); math.Abs(all+both-scale) > 1e-9*scale || math.Abs(rest+both-a.Volume()) > 1e-9*scale {
			t.Fatalf("pair %d: A %v, B %v, A∪B %v, A∩B %v, A−B %v", i, a.Volume(), b.Volume(), all, both, rest)
		}
	}
}

// TestBooleanViews sees the same pair along other axes and in a mirror: the method
// prefers some axes, its results don't.
func TestBooleanViews(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 50 {
		a, b := somePair(r)
		want := boolean(t, "subtract", a, b).Volume()
		turn := solid.QuarterTurns(0, 1).Then(solid.QuarterTurns(1, 1))
		mirror := solid.Reflection(solid.Plane{Normal: solid.Vec{1, 0, 0}})
		for _, view := range []solid.Transform{turn, turn.Then(turn), mirror} {
			if got := boolean(t, "subtract", a.Transform(view), b.Transform(view)).Volume(); math.Abs(got-want) > 1e-9*a.Volume() {
				t.Fatalf("A − B is %v, seen otherwise %v", want, got)
			}
		}
	}
}

// TestBooleanChain builds on its own results, where coincidences pile up.
func TestBooleanChain(t *testing.T) {
	chains := 10
	if testing.Short() {
		chains = 2
	}
	r := rand.New(rand.NewPCG(5, 6))
	for range chains {
		m := box(0, 0, 0, 6, 6, 6)
		// The same block as 12³ half cells, counted: the outside check.
		const n = 12
		var cells [n][n][n]bool
		fill := func(low, high [3]int, to func(bool) bool) {
			for x := range n {
				for y := range n {
					for z := range n {
						if x >= low[0] && x < high[0] && y >= low[1] && y < high[1] && z >= low[2] && z < high[2] {
							cells[x][y][z] = to(cells[x][y][z])
						}
					}
				}
			}
		}
		fill([3]int{}, [3]int{n, n, n}, func(bool) bool { return true })
		for range 100 {
			var low, high [3]int
			var p, q solid.Vec
			for k := range 3 {
				low[k] = r.IntN(n - 1)
				high[k] = low[k] + 1 + r.IntN(min(5, n-low[k]))
				p[k], q[k] = float64(low[k])/2, float64(high[k])/2
			}
			other := must(solid.Box(p, q))
			if r.IntN(2) == 0 {
				m = boolean(t, "subtract", m, other)
				fill(low, high, func(bool) bool { return false })
			} else {
				m = unite(t, m, other)
				fill(low, high, func(bool) bool { return true })
			}
			count := 0
			for x := range n {
				for y := range n {
					for z := range n {
						if cells[x][y][z] {
							count++
						}
					}
				}
			}
			if math.Abs(m.Volume()-float64(count)/8) > 1e-9 {
				t.Fatalf("volume %v, counted %v", m.Volume(), float64(count)/8)
			}
		}
	}
}

// TestBooleanSponge drills two levels of a Menger sponge. Its genus is counted on
// the cells: 1 − (vertices − edges + faces)/2 of the squares that bound it.
func TestBooleanSponge(t *testing.T) {
	var drills []solid.Mesh
	for level, holes := 1, 1; level <= 2; level, holes = level+1, holes*3 {
		side := 9.0 / float64(3*holes)
		for i := range holes {
			for j := range holes {
				x, y := side*float64(3*i+1), side*float64(3*j+1)
				drill := box(x, y, -1, x+side, y+side, 10)
				drills = append(drills, drill,
					drill.Transform(solid.QuarterTurns(0, 1)).Translate(solid.Vec{0, 9, 0}),
					drill.Transform(solid.QuarterTurns(1, 1)).Translate(solid.Vec{0, 0, 9}))
			}
		}
	}
	cells, euler := spongeCells()
	sponge := boolean(t, "subtract", append([]solid.Mesh{box(0, 0, 0, 9, 9, 9)}, drills...)...)
	if !near(sponge.Volume(), float64(cells), 1e-12) || must(sponge.Genus()) != 1-euler/2 {
		t.Errorf("volume %v, genus %d; want %d and %d", sponge.Volume(), must(sponge.Genus()), cells, 1-euler/2)
	}
}

// spongeCells counts the unit cells of a Menger sponge of side 9, and vertices −
// edges + faces of its surface.
func spongeCells() (cells, euler int) {
	full := func(p [3]int) bool {
		for _, side := range [2]int{1, 3} {
			middle := 0
			for _, x := range p {
				if x < 0 || x >= 9 {
					return false
				}
				if x/side%3 == 1 {
					middle++
				}
			}
			if middle >= 2 {
				return false
			}
		}
		return true
	}
	parts := map[[3]int]bool{} // in half units, so that odd numbers are middles
	for i := range 9 * 9 * 9 {
		p := [3]int{i % 9, i / 9 % 9, i / 81}
		if !full(p) {
			continue
		}
		cells++
		for axis := range 3 {
			for _, way := range [2]int{-1, 1} {
				beside := p
				beside[axis] += way
				if full(beside) {
					continue
				}
				for j := range 9 {
					at := [3]int{2*p[0] + 1, 2*p[1] + 1, 2*p[2] + 1}
					at[axis] += way
					at[(axis+1)%3] += j%3 - 1
					at[(axis+2)%3] += j/3 - 1
					parts[at] = true
				}
			}
		}
	}
	for at := range parts {
		odd := at[0]&1 + at[1]&1 + at[2]&1
		euler += 1 - 2*(odd&1) // faces have two odd numbers, edges one, vertices none
	}
	return cells, euler
}

// TestBooleanWorkers wants the same bytes from one worker and from many.
func TestBooleanWorkers(t *testing.T) {
	pipe, drills := solidtest.Tube(64, 20), solidtest.Drills()
	var want solid.Mesh
	for i, workers := range []int{1, 2, 7} {
		m, err := solid.Kernel{Workers: workers}.Subtract(context.Background(), pipe, drills...)
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			want = m
		} else if !reflect.DeepEqual(m, want) {
			t.Errorf("%d workers give another result than one", workers)
		}
	}
}

// TestBooleanRefuses wants typed errors, and the context's.
func TestBooleanRefuses(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	open := solidtest.Cube(solid.Vec{})
	open.Triangles = open.Triangles[1:]
	for _, err := range []error{
		second(kernel.Union(ctx, open)), second(kernel.Union(ctx, open, solidtest.Cube(solid.Vec{.5, 0, 0}))),
		second(kernel.Subtract(ctx, open)), second(kernel.Subtract(ctx, solidtest.Cube(solid.Vec{}), open)),
		second(kernel.Intersect(ctx, open)), second(kernel.Union(ctx, open, solidtest.Cube(solid.Vec{9, 0, 0}))),
	} {
		if _, ok := err.(*solid.NotSolidError); !ok {
			t.Errorf("an open mesh: %v, want a NotSolidError", err)
		}
	}
	cancel()
	a := solidtest.Sphere(16, 50, solid.Vec{})
	if _, err := kernel.Subtract(ctx, a, a.Translate(solid.Vec{1, 0, 0})); err != context.Canceled {
		t.Errorf("cancelled: %v", err)
	}
}

// TestBooleanRange works at any scale in which lengths can be multiplied, and far
// from the origin; what is beyond is refused.
func TestBooleanRange(t *testing.T) {
	a, b := solidtest.Sphere(5, 1, solid.Vec{}), solidtest.Sphere(5, 1, solid.Vec{.5, .3, .2})
	want := unite(t, a, b).Volume()
	for _, scale := range []float64{1e-59, 1e-30, 1e-9, 1e9, 1e30, 1e49} {
		by := solid.Scaling(scale)
		m, err := kernel.Union(context.Background(), a.Transform(by), b.Transform(by))
		if err != nil {
			t.Fatal(err)
		}
		if got := m.Transform(solid.Scaling(1 / scale)).Volume(); !near(got, want, 1e-9) {
			t.Errorf("at scale %v the volume is %v, want %v", scale, got, want)
		}
	}
	for _, far := range []float64{1e3, 1e6, 1e9} {
		by := solid.Translation(solid.Vec{far, -far, far})
		if got := unite(t, a.Transform(by), b.Transform(by)).Volume(); !near(got, want, 1e-14*far) {
			t.Errorf("%v away the volume is %v, want %v", far, got, want)
		}
	}
	for _, scale := range []float64{1e-300, 1e-61, 1e51, 1e300} {
		by := solid.Scaling(scale)
		if _, err := kernel.Subtract(context.Background(), a.Transform(by), b.Transform(by)); !isValueError(err) {
			t.Errorf("at scale %v: %v, want a ValueError", scale, err)
		}
	}
}

func isValueError(err error) bool {
	var e *solid.ValueError
	return errors.As(err, &e)
}

func second(_ solid.Mesh, err error) error { return err }

// TestBooleanProgress hears of every step, and of each that it ends.
func TestBooleanProgress(t *testing.T) {
	done := map[string]float64{}
	k := solid.Kernel{Progress: func(step string, share float64) {
		if share < done[step] && done[step] < 1 {
			t.Errorf("%s went back from %v to %v", step, done[step], share)
		}
		done[step] = share
	}}
	a := solidtest.Sphere(8, 50, solid.Vec{})
	if _, err := k.Subtract(context.Background(), a, a.Translate(solid.Vec{20, 0, 0})); err != nil {
		t.Fatal(err)
	}
	for _, step := range []string{"read solids", "find crossings", "tell inside from outside", "divide faces"} {
		if done[step] != 1 {
			t.Errorf("step %q ended at %v", step, done[step])
		}
	}
	for step := range done {
		if strings.ToLower(step) != step {
			t.Errorf("step %q isn't a plain phrase", step)
		}
	}
}
