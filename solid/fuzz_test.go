package solid_test

import (
	"context"
	"encoding/binary"
	"math"
	"reflect"
	"testing"

	"scalewright/solid"
	"scalewright/solid/solidtest"
)

// shapeOf reads a solid from bytes: what kind, how fine, where and how turned.
// Small whole numbers make coincidences likely.
func shapeOf(data []byte) (solid.Mesh, []byte) {
	if len(data) < 6 {
		return box(0, 0, 0, 2, 2, 2), nil
	}
	kind, fine, turned := data[0], int(data[1]), data[5]
	at := solid.Vec{float64(data[2]) / 32, float64(data[3]) / 32, float64(data[4]) / 32}
	data = data[6:]
	var m solid.Mesh
	switch kind % 4 {
	case 0:
		m = box(0, 0, 0, 1+float64(fine%3), 1+float64(fine/3%3), 1+float64(fine/9%3))
	case 1:
		m = tube(2, 1, 3, 3+fine%8)
	case 2:
		m = torus(2, 1, 3+fine%3, 3+fine/3%5)
	default:
		m = frameSolid().Transform(solid.Scaling(.25))
	}
	if turned > 0 && len(data) >= 8 {
		angle := math.Float64frombits(binary.LittleEndian.Uint64(data))
		data = data[8:]
		if math.Abs(angle) < 7 {
			m = m.Transform(solid.Rotation(solid.Vec{float64(turned % 5), float64(turned / 5 % 5), 1}, angle))
		}
	}
	return m.Translate(at), data
}

// FuzzBoolean wants solids from solids, and volumes that add up.
func FuzzBoolean(f *testing.F) {
	f.Add([]byte{0, 0, 0, 0, 0, 0, 0, 0, 32, 0, 0, 0})
	f.Add([]byte{1, 5, 0, 0, 0, 0, 2, 7, 32, 16, 0, 3, 0, 0, 0, 0, 0, 0, 0xf0, 0x3f})
	f.Add([]byte{3, 0, 0, 0, 0, 0, 3, 0, 0, 0, 0, 2, 0x3a, 0x8c, 0x30, 0xe2, 0x8e, 0x79, 0x05, 0x3e})
	f.Fuzz(func(t *testing.T, data []byte) {
		a, rest := shapeOf(data)
		b, _ := shapeOf(rest)
		ctx := context.Background()
		all, err1 := kernel.Union(ctx, a, b)
		both, err2 := kernel.Intersect(ctx, a, b)
		rest1, err3 := kernel.Subtract(ctx, a, b)
		for _, err := range []error{err1, err2, err3} {
			if err != nil {
				t.Fatal(err)
			}
		}
		for _, m := range []solid.Mesh{all, both, rest1} {
			wantSolid(t, "result", m)
		}
		sum := a.Volume() + b.Volume()
		if math.Abs(all.Volume()+both.Volume()-sum) > 1e-9*sum || math.Abs(rest1.Volume()+both.Volume()-a.Volume()) > 1e-9*sum {
			t.Fatalf("A %v, B %v, A∪B %v, A∩B %v, A−B %v", a.Volume(), b.Volume(), all.Volume(), both.Volume(), rest1.Volume())
		}
	})
}

// FuzzBooleanSoup gives the booleans triangles at random: an error or a solid
// surface, never a panic. Closed input that passes through itself may give any
// volume, but is closed again.
func FuzzBooleanSoup(f *testing.F) {
	f.Add([]byte{0, 1, 2, 0, 2, 3, 0, 3, 1, 1, 3, 2}, []byte{0, 0, 0, 9, 0, 0, 0, 9, 0, 0, 0, 9})
	f.Fuzz(func(t *testing.T, corners, places []byte) {
		var m solid.Mesh
		for i := 0; i+2 < len(places); i += 3 {
			m.Vertices = append(m.Vertices, solid.Vec{float64(places[i]), float64(places[i+1]), float64(places[i+2])})
		}
		for i := 0; i+2 < len(corners); i += 3 {
			m.Triangles = append(m.Triangles, [3]int32{int32(corners[i]), int32(corners[i+1]), int32(corners[i+2])})
		}
		out, err := kernel.Subtract(context.Background(), box(1, 1, 1, 8, 8, 8), m)
		if err == nil {
			wantClosed(t, out)
		}
	})
}

// wantClosed wants two triangles at every edge, one each way.
func wantClosed(t testing.TB, m solid.Mesh) {
	t.Helper()
	if _, err := m.Opposites(); err != nil {
		t.Fatal(err)
	}
}

// FuzzCut wants two solids from one, whose volumes add up to it.
func FuzzCut(f *testing.F) {
	f.Add([]byte{0, 0, 0, 0, 0, 0}, 0.0, 0.0, 1.0, 1.0)
	f.Add([]byte{1, 5, 0, 0, 0, 0}, 1.0, 2.0, 3.0, 4.5)
	f.Fuzz(func(t *testing.T, data []byte, x, y, z, d float64) {
		m, _ := shapeOf(data)
		above, below, err := solid.Cut(m, solid.Plane{Normal: solid.Vec{x, y, z}, Offset: d})
		if err != nil {
			return
		}
		wantSolid(t, "above", above)
		wantSolid(t, "below", below)
		if v := m.Volume(); math.Abs(above.Volume()+below.Volume()-v) > 1e-9*v {
			t.Fatalf("%v and %v of %v", above.Volume(), below.Volume(), v)
		}
	})
}

// FuzzProject wants lines that hold all edges that count, whatever lies on what,
// and the same ones from any number of workers.
func FuzzProject(f *testing.F) {
	f.Add([]byte{0, 0, 0, 0, 0, 0, 0, 0, 32, 0, 0, 0}, 1.0, -1.0, 1.0)
	f.Add([]byte{1, 5, 0, 0, 0, 0, 2, 7, 32, 16, 0, 3, 0, 0, 0, 0, 0, 0, 0xf0, 0x3f}, 0.0, -1.0, 0.0)
	f.Add([]byte{3, 0, 0, 0, 0, 0, 3, 0, 0, 0, 0, 2, 0x3a, 0x8c, 0x30, 0xe2, 0x8e, 0x79, 0x05, 0x3e}, 0.0, 0.0, 1.0)
	f.Fuzz(func(t *testing.T, data []byte, x, y, z float64) {
		a, rest := shapeOf(data)
		b, _ := shapeOf(rest)
		placed := []solid.Placed{at("a", a), at("b", b)}
		v := solid.View{Eye: solid.Vec{x, y, z}}
		p, err := kernel.Project(context.Background(), placed, v)
		if err != nil {
			return
		}
		total := 0.0
		for _, l := range p.Lines {
			if len(l.Points) < 2 || len(l.Points) != len(l.Depths) {
				t.Fatalf("line %v", l)
			}
			if l.Kind != solid.Intersection {
				total += l.Length()
			}
		}
		want := 0.0
		for _, e := range solidtest.SlowEdges([]solid.Mesh{a, b}, p.Frame, solid.DefaultCrease+1e-6) {
			want += e.Length
		}
		// Edges seen end-on, of which there may be some tens, are left out.
		if math.Abs(total-want) > 1e-6*(1+want) {
			t.Fatalf("%v of edges drawn, %v count", total, want)
		}
		again, err := solid.Kernel{Workers: 3}.Project(context.Background(), placed, v)
		if err != nil || !reflect.DeepEqual(p, again) {
			t.Fatalf("with three workers %v, %v", again, err)
		}
	})
}
