package solid_test

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
	"scalewright/solid/solidtest"
)

// damage spoils a solid as files do, and returns how many triangles it took out
// and by how much it may have moved a vertex.
func damage(t *rapid.T, m solid.Mesh) (out solid.Mesh, missing int, moved float64) {
	out = clone(m)
	some := func(label string) int { return rapid.IntRange(0, len(out.Triangles)-1).Draw(t, label) }
	if rapid.Bool().Draw(t, "reverse") {
		out = reversed(out)
	}
	for range rapid.IntRange(0, 3).Draw(t, "missing") {
		out = without(out, some("gone"))
		missing++
	}
	for range rapid.IntRange(0, 3).Draw(t, "duplicates") {
		out.Triangles = append(out.Triangles, out.Triangles[some("twice")])
	}
	for range rapid.IntRange(0, 3).Draw(t, "degenerate") {
		f := out.Triangles[some("flat")]
		out.Triangles = append(out.Triangles, [3]int32{f[0], f[1], f[rapid.IntRange(0, 1).Draw(t, "corner")]})
	}
	// Fewer than half of each shell, or nobody could tell which way round it was.
	for range rapid.IntRange(0, len(out.Triangles)/8).Draw(t, "flips") {
		f := &out.Triangles[some("flip")]
		f[0], f[1] = f[1], f[0]
	}
	if rapid.Bool().Draw(t, "soup") {
		out = soup(out)
		if rapid.Bool().Draw(t, "jitter") {
			jitter := rand.New(rand.NewPCG(1, rapid.Uint64().Draw(t, "seed")))
			for i := range out.Vertices {
				for k := range 3 {
					out.Vertices[i][k] += 1e-7 * (2*jitter.Float64() - 1)
				}
			}
			moved = 2 * math.Sqrt(3) * 1e-7
		}
	}
	return out, missing, moved
}

// TestRepairUndoesDamage demands the volume as it was, within what the damage
// took away: a hole's cap and what was there lie in the hull of its rim, which a
// ball with a quarter of the rim's length as radius holds; and each point moved
// sweeps no more than the area by its way.
func TestRepairUndoesDamage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := someSolid(t)
		spoilt, missing, moved := damage(t, m)
		out, changes, err := solid.Kernel{}.Repair(context.Background(), spoilt, solid.RepairOptions{})
		if err != nil {
			if refusal, ok := errors.AsType[*solid.RepairError](err); ok && refusal.Reason == solid.OpenSurface && missing > 1 {
				return // missing triangles side by side may be a whole face
			}
			t.Fatalf("%v (changes %v)", err, changes)
		}
		if faults := out.Check(); len(faults) > 0 {
			t.Fatalf("not a solid: %v", faults[0])
		}
		lost := 2*moved*m.Area() + 1e-9*m.Volume()
		for _, c := range changes {
			if c.Kind == solid.HoleClosed {
				lost += float64(c.Count) * 4 / 3 * math.Pi * math.Pow(c.Size/4, 3)
			}
		}
		if d := math.Abs(out.Volume() - m.Volume()); d > lost {
			t.Fatalf("volume %v, want %v ± %v (changes %v)", out.Volume(), m.Volume(), lost, changes)
		}
		again, more, err := solid.Kernel{}.Repair(context.Background(), out, solid.RepairOptions{})
		if err != nil || !reflect.DeepEqual(again, out) {
			t.Fatalf("a second repair: %v, changes %v", err, more)
		}
	})
}

// TestRepairRandomTriangles: whatever the triangles, a solid or a reason.
func TestRepairRandomTriangles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Map(rapid.IntRange(0, 3), func(i int) float64 { return float64(i) })
		var m solid.Mesh
		for range rapid.IntRange(0, 12).Draw(t, "vertices") {
			m.Vertices = append(m.Vertices, solid.Vec{coord.Draw(t, "x"), coord.Draw(t, "y"), coord.Draw(t, "z")})
		}
		index := rapid.Int32Range(0, int32(max(0, len(m.Vertices)-1)))
		for range rapid.IntRange(0, 40).Draw(t, "triangles") {
			m.Triangles = append(m.Triangles, [3]int32{index.Draw(t, "a"), index.Draw(t, "b"), index.Draw(t, "c")})
		}
		repairsOrRefuses(t, m)
	})
}

func repairsOrRefuses(t interface{ Fatalf(string, ...any) }, m solid.Mesh) {
	o := solid.RepairOptions{LargestHole: 1}
	out, _, err := solid.Kernel{}.Repair(context.Background(), m, o)
	if err != nil {
		if _, ok := errors.AsType[*solid.RepairError](err); !ok {
			t.Fatalf("an error of another kind: %v", err)
		}
		return
	}
	if faults := out.Check(); len(faults) > 0 {
		t.Fatalf("not a solid: %v", faults[0])
	}
	again, more, err := solid.Kernel{}.Repair(context.Background(), out, o)
	if err != nil || !reflect.DeepEqual(again, out) {
		t.Fatalf("a second repair: %v, changes %v", err, more)
	}
}

// FuzzRepair takes bytes as vertices, three float32 each, half of the bytes, and
// as triangles, three bytes each.
func FuzzRepair(f *testing.F) {
	f.Add([]byte{})
	cube := box(0, 0, 0, 1, 1, 1)
	for _, m := range []solid.Mesh{
		cube, without(cube, 3), soup(cube), hollow(), reversed(hollow()), solidtest.Sphere(2, 5, solid.Vec{}),
		solid.Join(cube, cube.Translate(solid.Vec{0.5, 0, 0.25})), solid.Join(cube, cube.Translate(solid.Vec{1, 1, 0})).Weld(),
	} {
		var seed []byte
		for _, p := range m.Vertices {
			for _, x := range p {
				seed = binary.LittleEndian.AppendUint32(seed, math.Float32bits(float32(x)))
			}
		}
		for _, t := range m.Triangles {
			seed = append(seed, byte(t[0]), byte(t[1]), byte(t[2]))
		}
		f.Add(append([]byte{byte(len(m.Vertices))}, seed...))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) == 0 || len(data) > 4096 {
			return
		}
		var m solid.Mesh
		vertices := int(data[0])
		for data = data[1:]; vertices > 0 && len(data) >= 12; vertices-- {
			var p solid.Vec
			for k := range 3 {
				p[k] = float64(math.Float32frombits(binary.LittleEndian.Uint32(data[4*k:])))
			}
			m.Vertices = append(m.Vertices, p)
			data = data[12:]
		}
		for ; len(data) >= 3; data = data[3:] {
			m.Triangles = append(m.Triangles, [3]int32{int32(data[0]), int32(data[1]), int32(data[2])})
		}
		repairsOrRefuses(t, m)
	})
}

// Closed surfaces of random corners pass through themselves everywhere: their
// union would have as many triangles as they have crossings, and that of the
// union again. They are left, and told.
func TestRepairLeavesTangles(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	tangle := func() solid.Mesh {
		m := torus(50, 10, 7, 7)
		for i := range m.Vertices {
			m.Vertices[i] = solid.Vec{random.Float64(), random.Float64(), random.Float64()}
		}
		return m
	}
	m := solid.Join(tangle(), tangle())
	out, changes := repaired(t, m, solid.RepairOptions{})
	if got := kinds(changes); len(out.Triangles) != len(m.Triangles) || got[solid.CrossingsLeft] == 0 || got[solid.ShellUnited] > 0 {
		t.Errorf("%d triangles of %d, changes %v; want the tangles left", len(out.Triangles), len(m.Triangles), changes)
	}
}

// The same input gives the same bytes at any number of workers.
func TestRepairSameBits(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	m := soup(solid.Join(without(solidtest.Sphere(8, 50, solid.Vec{}), 3, 4, 100), reversed(hollow()).Translate(solid.Vec{100, 0, 0})))
	for i := range m.Vertices {
		m.Vertices[i][i%3] += 1e-7 * float64(i%7)
	}
	var want string
	for _, n := range []int{1, 8, 1, 8} {
		runtime.GOMAXPROCS(n)
		out, changes, err := solid.Kernel{Workers: n}.Repair(context.Background(), m, solid.RepairOptions{})
		got := fmt.Sprintf("%x %v %v", out, changes, err)
		if want == "" {
			want = got
		}
		if err != nil || got != want {
			t.Fatalf("with %d workers: %v, or other bits", n, err)
		}
	}
}

func TestRepairEndsWithContext(t *testing.T) {
	m := soup(solid.Join(without(box(0, 0, 0, 1, 1, 1), 4), box(0.5, 0, 0, 2, 1, 1)))
	// Ended after so many steps; the steps that one is part of may still be told.
	const depth = 2
	for steps := 0; ; steps++ {
		ctx, cancel := context.WithCancel(context.Background())
		told := 0
		k := solid.Kernel{Workers: 1, Progress: func(_ string, _ float64) {
			if told++; told > steps {
				cancel()
			}
		}}
		_, _, err := k.Repair(ctx, m, solid.RepairOptions{})
		cancel()
		if told <= steps {
			if err != nil || steps < 10 {
				t.Fatalf("%d steps: %v", steps, err)
			}
			return
		}
		if told > steps+1+depth || !errors.Is(err, context.Canceled) {
			t.Fatalf("ended after %d steps: %d more, Repair = %v", steps, told-steps-1, err)
		}
	}
}

func TestRepairRefusesImpossibleOptions(t *testing.T) {
	for _, o := range []solid.RepairOptions{
		{Near: -1}, {Near: math.NaN()}, {Near: math.Inf(1)}, {LargestHole: -1}, {LargestHole: 2}, {LargestHole: math.NaN()},
	} {
		_, _, err := solid.Kernel{}.Repair(context.Background(), box(0, 0, 0, 1, 1, 1), o)
		if _, ok := errors.AsType[*solid.ValueError](err); !ok {
			t.Errorf("Repair with %+v = %v, want a ValueError", o, err)
		}
	}
}

// smallSolid draws a ring, a pipe, a plate, or a body with a void.
func smallSolid(t *rapid.T) solid.Mesh {
	segments := rapid.IntRange(3, 8).Draw(t, "segments")
	switch rapid.IntRange(0, 3).Draw(t, "kind") {
	case 0:
		return torus(50, 10, rapid.IntRange(3, 6).Draw(t, "corners"), segments)
	case 1:
		return tube(30, 20, 40, segments)
	case 2:
		return frameSolid()
	default:
		return must(solid.TurnLoops([][]solid.PointRZ{
			{{R: 0, Z: 0}, {R: 30, Z: 0}, {R: 20, Z: 60}, {R: 0, Z: 60}},
			{{R: 5, Z: 10}, {R: 5, Z: 40}, {R: 15, Z: 40}, {R: 15, Z: 10}},
		}, segments))
	}
}

// Two solids thrown into one soup come out united: the volume of both less that
// of what they have in common.
func TestRepairUnitesSoups(t *testing.T) {
	ctx := context.Background()
	rapid.Check(t, func(t *rapid.T) {
		// Not less than 1/8 apart: what lies within the merging distance of something
		// else is not two things.
		shift := rapid.Map(rapid.IntRange(-480, 480), func(i int) float64 { return float64(i) / 8 })
		a, b := smallSolid(t), smallSolid(t).Translate(solid.Vec{shift.Draw(t, "x"), shift.Draw(t, "y"), shift.Draw(t, "z")})
		spoilt := soup(solid.Join(a, b))
		for range rapid.IntRange(0, 4).Draw(t, "flips") {
			f := &spoilt.Triangles[rapid.IntRange(0, len(spoilt.Triangles)-1).Draw(t, "flip")]
			f[0], f[1] = f[1], f[0]
		}
		both, err := solid.Kernel{}.Intersect(ctx, a, b)
		if err != nil {
			t.Fatal(err)
		}
		out, changes, err := solid.Kernel{}.Repair(ctx, spoilt, solid.RepairOptions{})
		if err != nil {
			t.Fatalf("%v (changes %v)", err, changes)
		}
		want := a.Volume() + b.Volume() - both.Volume()
		if got := out.Volume(); !near(got, want, 1e-9) {
			t.Fatalf("volume %v, want %v (changes %v)", got, want, changes)
		}
		// Faces that lie a rounding apart may cross in the union; that is told.
		again, more, err := solid.Kernel{}.Repair(ctx, out, solid.RepairOptions{})
		if err != nil || !reflect.DeepEqual(again, out) {
			t.Fatalf("a second repair: %v, changes %v", err, more)
		}
	})
}
