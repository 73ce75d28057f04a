package solid_test

import (
	"context"
	"errors"
	"math"
	"reflect"
	"slices"
	"testing"

	"scalewright/solid"
	"scalewright/solid/solidtest"
)

func repaired(t testing.TB, m solid.Mesh, o solid.RepairOptions) (solid.Mesh, []solid.Change) {
	t.Helper()
	out, changes, err := solid.Kernel{}.Repair(context.Background(), m, o)
	if err != nil {
		t.Fatalf("Repair: %v (changes: %v)", err, changes)
	}
	wantSolid(t, "repaired", out)
	return out, changes
}

// soup gives every triangle vertices of its own, as STL does.
func soup(m solid.Mesh) solid.Mesh {
	var out solid.Mesh
	for _, t := range m.Triangles {
		n := int32(len(out.Vertices))
		out.Vertices = append(out.Vertices, m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]])
		out.Triangles = append(out.Triangles, [3]int32{n, n + 1, n + 2})
	}
	return out
}

func clone(m solid.Mesh) solid.Mesh {
	return solid.Mesh{Vertices: slices.Clone(m.Vertices), Triangles: slices.Clone(m.Triangles)}
}

func reversed(m solid.Mesh) solid.Mesh {
	out := clone(m)
	for i, t := range out.Triangles {
		out.Triangles[i] = [3]int32{t[0], t[2], t[1]}
	}
	return out
}

func without(m solid.Mesh, triangles ...int) solid.Mesh {
	out := clone(m)
	slices.Sort(triangles)
	for _, i := range slices.Backward(triangles) {
		out.Triangles = slices.Delete(out.Triangles, i, i+1)
	}
	return out
}

// withoutSide leaves out the triangles in a plane across an axis.
func withoutSide(m solid.Mesh, axis int, at float64) solid.Mesh {
	var side []int
	for i, t := range m.Triangles {
		if m.Vertices[t[0]][axis] == at && m.Vertices[t[1]][axis] == at && m.Vertices[t[2]][axis] == at {
			side = append(side, i)
		}
	}
	return without(m, side...)
}

// kinds lists the kinds of the changes, each with its count.
func kinds(changes []solid.Change) map[solid.ChangeKind]int {
	out := map[solid.ChangeKind]int{}
	for _, c := range changes {
		out[c.Kind] = c.Count
	}
	return out
}

// hollow is a box of 10 with a cavity of 4 in it, volume 936.
func hollow() solid.Mesh {
	return solid.Join(box(0, 0, 0, 10, 10, 10), reversed(box(3, 3, 3, 7, 7, 7)))
}

func TestRepair(t *testing.T) {
	ball := solidtest.Sphere(8, 50, solid.Vec{})
	cube := box(0, 0, 0, 10, 10, 10)
	type count = map[solid.ChangeKind]int
	with := func(m solid.Mesh, vertices []solid.Vec, triangles ...[3]int32) solid.Mesh {
		out := clone(m)
		out.Vertices = append(out.Vertices, vertices...)
		out.Triangles = append(out.Triangles, triangles...)
		return out
	}
	first := cube.Triangles[0]
	nan := math.NaN()
	for _, test := range []struct {
		name   string
		mesh   solid.Mesh
		volume float64
		want   count
	}{
		{"sound", cube, 1000, count{}},
		{"empty", solid.Mesh{}, 0, count{}},
		{"soup", soup(cube), 1000, count{solid.VertexWelded: 28}},
		{"reversed", reversed(cube), 1000, count{solid.ShellFlipped: 1}},
		{"reversed with its cavity", reversed(hollow()), 936, count{solid.ShellFlipped: 2}},
		{"index beyond", with(cube, nil, [3]int32{0, 1, 99}, [3]int32{-1, 0, 1}), 1000, count{solid.TriangleUnusable: 2}},
		{"no number", with(cube, []solid.Vec{{nan, 0, 0}}, [3]int32{0, 1, 8}), 1000, count{solid.TriangleUnusable: 1}},
		{"unused no number", with(cube, []solid.Vec{{nan, 0, 0}}), 1000, count{solid.VertexUnused: 1}},
		{"missing triangle", without(cube, 3), 1000, count{solid.HoleClosed: 1}},
		{"missing patch", without(ball, 0, 1, 2, 3), ball.Volume(), count{solid.HoleClosed: 1}},
		{"one flipped", func() solid.Mesh {
			m := clone(cube)
			m.Triangles[5] = [3]int32{m.Triangles[5][1], m.Triangles[5][0], m.Triangles[5][2]}
			return m
		}(), 1000, count{solid.TriangleFlipped: 1}},
		{"duplicate", with(cube, nil, first), 1000, count{solid.TriangleDuplicate: 1}},
		{"repeated corner", with(cube, nil, [3]int32{first[0], first[0], first[1]}), 1000, count{solid.TriangleDegenerate: 1}},
		{
			"fin", with(cube, []solid.Vec{{0, 0, -4}}, [3]int32{first[0], first[1], 8}), 1000,
			count{solid.WallDropped: 1},
		},
		{"stray triangle", solid.Join(cube, solid.Mesh{
			Vertices: []solid.Vec{{20, 0, 0}, {21, 0, 0}, {20, 1, 0}}, Triangles: [][3]int32{{0, 1, 2}},
		}), 1000, count{solid.LoosePieceDropped: 1}},
		{"copy", solid.Join(cube, cube), 1000, count{solid.ShellCopyDropped: 1}},
		{"overlapping", solid.Join(cube, box(5, 5, 5, 15, 15, 15)), 1875, count{solid.ShellUnited: 2}},
		{"overlapping, faces in line", solid.Join(cube, box(5, 0, 0, 15, 10, 10)), 1500, count{solid.ShellUnited: 2}},
		{"three in a row", solid.Join(cube, box(5, 0, 0, 15, 10, 10), box(15, 0, 0, 20, 10, 10)), 2000, count{solid.ShellUnited: 3}},
		{"one inside another", solid.Join(cube, box(3, 3, 3, 7, 7, 7)), 1000, count{solid.ShellUnited: 2}},
		{"one inside a cavity", solid.Join(hollow(), box(4, 4, 4, 6, 6, 6)), 944, count{}},
		{"one through a cavity", solid.Join(hollow(), box(4, 4, -1, 6, 6, 11)), 960, count{solid.ShellUnited: 2}},
		{"touching faces", solid.Join(cube, box(10, 0, 0, 20, 10, 10)), 2000, count{}},
		{"overlapping and inside out", reversed(solid.Join(cube, box(5, 5, 5, 15, 15, 15))), 1875, count{
			solid.ShellFlipped: 2, solid.ShellUnited: 2,
		}},
		{"side by side", solid.Join(cube, box(10, 0, 0, 20, 10, 10)).Weld(), 2000, count{
			solid.EdgeParted: 4, solid.VertexSplit: 4,
		}},
		{"inner wall", solid.Join(cube, withoutSide(box(10, 0, 0, 20, 10, 10), 0, 10)).Weld(), 2000, count{
			solid.WallDropped: 2,
		}},
		{"inner wall, doubled", solid.Join(cube, cube.Transform(solid.Reflection(solid.Plane{
			Normal: solid.Vec{1, 0, 0}, Offset: 10,
		}))).Weld(), 2000, count{solid.TriangleDuplicate: 4}},
		{"touching in an edge", solid.Join(box(0, 0, 0, 10, 10, 10), box(10, 10, 0, 20, 20, 10)).Weld(), 2000, count{
			solid.EdgeParted: 1, solid.VertexSplit: 2,
		}},
		{"touching in a corner", solid.Join(box(0, 0, 0, 10, 10, 10), box(10, 10, 10, 20, 20, 20)).Weld(), 2000, count{
			solid.VertexSplit: 1,
		}},
	} {
		t.Run(test.name, func(t *testing.T) {
			before := clone(test.mesh)
			out, changes := repaired(t, test.mesh, solid.RepairOptions{})
			if got := kinds(changes); !reflect.DeepEqual(got, test.want) {
				t.Errorf("changes %v, want %v", changes, test.want)
			}
			if !near(out.Volume(), test.volume, 1e-3) {
				t.Errorf("volume %v, want %v", out.Volume(), test.volume)
			}
			if len(test.want) == 0 && !reflect.DeepEqual(out, test.mesh) {
				t.Error("a sound mesh was changed")
			}
			if len(before.Triangles) > 0 && !slices.Equal(before.Triangles, test.mesh.Triangles) {
				t.Error("the mesh given was written to")
			}
			again, more := repaired(t, out, solid.RepairOptions{})
			if len(more) > 0 || !reflect.DeepEqual(again, out) {
				t.Errorf("a second repair makes changes: %v", more)
			}
		})
	}
}

// lid is the top of a box of 10, with a vertex in the middle of one edge.
func lid(up float64) solid.Mesh {
	z := 10 + up
	return solid.Mesh{
		Vertices:  []solid.Vec{{0, 0, z}, {5, 0, z}, {10, 0, z}, {10, 10, z}, {0, 10, z}},
		Triangles: [][3]int32{{0, 1, 4}, {1, 3, 4}, {1, 2, 3}},
	}
}

func TestRepairJoins(t *testing.T) {
	open := withoutSide(box(0, 0, 0, 10, 10, 10), 2, 10)
	for _, test := range []struct {
		name string
		gap  float64
		o    solid.RepairOptions
		want map[solid.ChangeKind]int
	}{
		{"exact", 0, solid.RepairOptions{}, map[solid.ChangeKind]int{solid.VertexWelded: 4, solid.EdgeDivided: 1}},
		{"a float32 apart", 2e-6, solid.RepairOptions{}, map[solid.ChangeKind]int{solid.VertexMerged: 4, solid.EdgeDivided: 1}},
		{"four digits apart", 1e-3, solid.RepairOptions{}, map[solid.ChangeKind]int{solid.VertexMerged: 4, solid.EdgeDivided: 1}},
		{"as near as asked", 0.1, solid.RepairOptions{Near: 0.2}, map[solid.ChangeKind]int{solid.VertexMerged: 4, solid.EdgeDivided: 1}},
	} {
		t.Run(test.name, func(t *testing.T) {
			out, changes := repaired(t, solid.Join(open, lid(test.gap)), test.o)
			if got := kinds(changes); !reflect.DeepEqual(got, test.want) {
				t.Errorf("changes %v, want %v", changes, test.want)
			}
			if got := out.Volume(); math.Abs(got-1000) > 100*test.gap+1e-9 {
				t.Errorf("volume %v", got)
			}
			for _, c := range changes {
				if c.Kind == solid.VertexMerged && !near(c.Size, test.gap, 1e-6) {
					t.Errorf("widest gap %v, want %v", c.Size, test.gap)
				}
			}
		})
	}
	t.Run("too far apart", func(t *testing.T) {
		_, _, err := solid.Kernel{}.Repair(context.Background(), solid.Join(open, lid(0.1)), solid.RepairOptions{})
		if refusal, ok := errors.AsType[*solid.RepairError](err); !ok || refusal.Reason != solid.OpenSurface {
			t.Errorf("Repair = %v, want the surface to be open", err)
		}
	})
}

func TestRepairRefuses(t *testing.T) {
	openBox := withoutSide(box(0, 0, 0, 10, 10, 10), 2, 10)
	// A long pipe without thickness, open at both ends.
	pipe := must(solid.Turn([]solid.PointRZ{{R: 0, Z: 0}, {R: 5, Z: 0}, {R: 5, Z: 1000}, {R: 0, Z: 1000}}, 24))
	pipe = withoutSide(withoutSide(pipe, 2, 0), 2, 1000)
	sheet := solid.Mesh{
		Vertices:  []solid.Vec{{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}},
		Triangles: [][3]int32{{0, 1, 2}, {0, 2, 3}},
	}
	band := func() solid.Mesh { // a Möbius band of 12 quads
		var m solid.Mesh
		const n = 12
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
			up, out := math.Sincos(math.Pi * float64(i) / n)
			for _, s := range [2]float64{-2, 2} {
				m.Vertices = append(m.Vertices, solid.Vec{(10 + s*out) * cos, (10 + s*out) * sin, s * up})
			}
		}
		for i := range int32(n) {
			a, b, c, d := 2*i, 2*i+1, 2*i+3, 2*i+2
			if i == n-1 {
				c, d = 0, 1
			}
			m.Triangles = append(m.Triangles, [3]int32{a, b, c}, [3]int32{a, c, d})
		}
		return m
	}
	for _, test := range []struct {
		name   string
		mesh   solid.Mesh
		o      solid.RepairOptions
		reason solid.RefusalReason
	}{
		{"open box", openBox, solid.RepairOptions{}, solid.OpenSurface},
		{"pipe", pipe, solid.RepairOptions{}, solid.OpenSurface},
		{"sheet", sheet, solid.RepairOptions{}, solid.OpenSurface},
		{"triangle", without(sheet, 0), solid.RepairOptions{LargestHole: 1}, solid.OpenSurface},
		{"Möbius band", band(), solid.RepairOptions{}, solid.OneSided},
		{"sheet on both sides", solid.Join(sheet, reversed(sheet)).Weld(), solid.RepairOptions{}, solid.NothingLeft},
		{"large fin", func() solid.Mesh {
			m := box(0, 0, 0, 10, 10, 10)
			f := m.Triangles[0]
			m.Vertices = append(m.Vertices, solid.Vec{50, 60, 70})
			m.Triangles = append(m.Triangles, [3]int32{f[0], f[1], 8})
			return m
		}(), solid.RepairOptions{}, solid.OpenSurface},
		{"out of reach", solid.Mesh{
			Vertices: []solid.Vec{{1e200, 0, 0}, {1, 0, 0}, {0, 1, 0}}, Triangles: [][3]int32{{0, 1, 2}},
		}, solid.RepairOptions{}, solid.CoordinateLarge},
		{"no numbers at all", solid.Mesh{Triangles: [][3]int32{{0, 1, 2}}}, solid.RepairOptions{}, solid.NothingLeft},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, _, err := solid.Kernel{}.Repair(context.Background(), test.mesh, test.o)
			refusal, ok := errors.AsType[*solid.RepairError](err)
			if !ok || refusal.Reason != test.reason {
				t.Fatalf("Repair = %v, want %v", err, test.reason)
			}
		})
	}
	t.Run("open box closed when asked", func(t *testing.T) {
		out, _ := repaired(t, openBox, solid.RepairOptions{LargestHole: 1})
		if !near(out.Volume(), 1000, 1e-12) {
			t.Errorf("volume %v", out.Volume())
		}
	})
}

// A box of which one corner is pushed out through the opposite side.
func TestRepairTellsCrossings(t *testing.T) {
	m := box(0, 0, 0, 10, 10, 10)
	m.Vertices[slices.Index(m.Vertices, solid.Vec{10, 10, 10})] = solid.Vec{3, 4, -5}
	out, changes := repaired(t, m, solid.RepairOptions{})
	if len(changes) != 1 || changes[0].Kind != solid.CrossingsLeft || changes[0].Count == 0 {
		t.Errorf("changes %v, want crossings left alone", changes)
	}
	if !reflect.DeepEqual(out, m) {
		t.Error("a mesh without faults was changed")
	}
	_, _, err := solid.Kernel{}.Repair(context.Background(), m, solid.RepairOptions{Strict: true})
	refusal, ok := errors.AsType[*solid.RepairError](err)
	if !ok || refusal.Reason != solid.SelfCrossing || refusal.Size != float64(changes[0].Count) {
		t.Errorf("strict Repair = %v, want it refused for %d crossings", err, changes[0].Count)
	}
}
