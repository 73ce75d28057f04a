package solid_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"scalewright/solid"
)

// tetra is a sound solid to spoil.
func tetra() solid.Mesh {
	return solid.Mesh{
		Vertices:  []solid.Vec{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
		Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {0, 3, 2}},
	}
}

func TestCheck(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(m *solid.Mesh)
		want  []solid.FaultKind // each once, in this order
	}{
		{"sound", func(*solid.Mesh) {}, nil},
		{"empty", func(m *solid.Mesh) { *m = solid.Mesh{} }, nil},
		{"vertices only", func(m *solid.Mesh) { m.Triangles = nil }, nil},
		{"index too high", func(m *solid.Mesh) { m.Triangles[1][1] = 4 }, []solid.FaultKind{solid.IndexOutOfRange}},
		{"index negative", func(m *solid.Mesh) { m.Triangles[1][1] = -1 }, []solid.FaultKind{solid.IndexOutOfRange}},
		{"NaN", func(m *solid.Mesh) { m.Vertices[2][1] = math.NaN() }, []solid.FaultKind{solid.NotFinite}},
		{"infinite", func(m *solid.Mesh) { m.Vertices[2][1] = math.Inf(-1) }, []solid.FaultKind{solid.NotFinite}},
		{"hole", func(m *solid.Mesh) { m.Triangles = m.Triangles[1:] }, []solid.FaultKind{solid.OpenEdge}},
		{"turned triangle", func(m *solid.Mesh) { m.Triangles[0] = [3]int32{0, 1, 2} }, []solid.FaultKind{solid.InconsistentEdge}},
		{"fin", func(m *solid.Mesh) { m.Triangles = append(m.Triangles, m.Triangles[0]) }, []solid.FaultKind{solid.CrowdedEdge}},
		{"flat", func(m *solid.Mesh) {
			m.Vertices = append(m.Vertices, solid.Vec{0.5, 0, 0})
			m.Triangles = append(m.Triangles, [3]int32{0, 4, 1})
			m.Triangles[0] = [3]int32{0, 2, 1}
			m.Triangles[1] = [3]int32{0, 1, 3}
			m.Triangles[0] = [3]int32{4, 2, 1}
			m.Triangles = append(m.Triangles, [3]int32{0, 2, 4})
		}, []solid.FaultKind{solid.DegenerateFace}},
		{"repeated corner", func(m *solid.Mesh) { m.Triangles = append(m.Triangles, [3]int32{1, 1, 2}) }, nil},
		{"inside out", func(m *solid.Mesh) {
			for i, f := range m.Triangles {
				m.Triangles[i] = [3]int32{f[0], f[2], f[1]}
			}
		}, []solid.FaultKind{solid.InsideOut}},
		{"cavity", func(m *solid.Mesh) {
			in := m.Transform(solid.Scaling(0.25)).Translate(solid.Vec{0.1, 0.1, 0.1})
			for i, f := range in.Triangles {
				in.Triangles[i] = [3]int32{f[0], f[2], f[1]}
			}
			*m = solid.Join(*m, in)
		}, nil},
		{"pinched", func(m *solid.Mesh) {
			two := solid.Join(*m, m.Transform(solid.Scaling(-1)))
			*m = two.Weld()
		}, []solid.FaultKind{solid.PinchedVertex}},
	} {
		m := tetra()
		c.spoil(&m)
		var kinds []solid.FaultKind
		for _, f := range m.Check() {
			kinds = append(kinds, f.Kind)
		}
		if c.name == "repeated corner" {
			if !slices.Contains(kinds, solid.RepeatedCorner) {
				t.Errorf("repeated corner: %v", kinds)
			}
			continue
		}
		if diff := cmp.Diff(c.want, slices.Compact(kinds)); diff != "" {
			t.Errorf("%s: kinds of fault (-want +got):\n%s", c.name, diff)
		}
		if m.Closed() != (c.want == nil) {
			t.Errorf("%s: Closed = %v", c.name, m.Closed())
		}
	}
}

func TestFaultsSayWhere(t *testing.T) {
	m := tetra()
	m.Triangles = m.Triangles[1:]
	err := m.Solid()
	want := "mesh is not a closed solid (open edge: 3); first: edge 0–1 near (0.5, 0, 0): open edge (triangles: 1)"
	if err == nil || err.Error() != want {
		t.Errorf("Solid = %v, want %s", err, want)
	}
	for k := solid.IndexOutOfRange; k <= solid.InsideOut; k++ {
		if s := (solid.Fault{Kind: k}).String(); s == "" || strings.Contains(s, "FaultKind") {
			t.Errorf("kind %d has no words: %q", k, s)
		}
	}
}

func TestWeld(t *testing.T) {
	m := box(0, 0, 0, 1, 1, 1)
	var soup solid.Mesh
	for _, f := range m.Triangles {
		v := int32(len(soup.Vertices))
		for _, c := range f {
			p := m.Vertices[c]
			if p[0] == 0 {
				p[0] = math.Copysign(0, -1) // −0 is the same place
			}
			soup.Vertices = append(soup.Vertices, p)
		}
		soup.Triangles = append(soup.Triangles, [3]int32{v, v + 1, v + 2})
	}
	if soup.Closed() {
		t.Error("a soup is closed")
	}
	w := soup.Weld()
	wantSolid(t, "welded", w)
	if len(w.Vertices) != 8 {
		t.Errorf("%d vertices, want 8", len(w.Vertices))
	}
}
