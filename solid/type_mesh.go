package solid

import "math"

// Mesh is the surface of a solid: triangles over shared vertices. The zero
// value is the empty solid. A Mesh is immutable by habit: functions of this
// package never write to one they were given, and callers shouldn't either.
//
// Triangles hold indices into Vertices, anticlockwise seen from outside. Half
// edge h is the edge of triangle h/3 that runs from its corner h%3 to the next.
type Mesh struct {
	Vertices  []Vec
	Triangles [][3]int32
}

// Empty reports whether the solid has no surface.
func (m Mesh) Empty() bool { return len(m.Triangles) == 0 }

// corners returns the three points of triangle t.
func (m Mesh) corners(t [3]int32) (a, b, c Vec) {
	return m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
}

// Bounds is a box along the axes. Of the empty solid both corners are zero.
type Bounds struct{ Min, Max Vec }

// Size returns the edge lengths of the box.
func (b Bounds) Size() Vec { return b.Max.Sub(b.Min) }

// Bounds returns the smallest box around the triangles; vertices that no
// triangle uses don't count.
func (m Mesh) Bounds() Bounds {
	if m.Empty() {
		return Bounds{}
	}
	inf := math.Inf(1)
	b := Bounds{Vec{inf, inf, inf}, Vec{-inf, -inf, -inf}}
	for _, t := range m.Triangles {
		for _, v := range t {
			p := m.Vertices[v]
			for k := range 3 {
				b.Min[k] = min(b.Min[k], p[k])
				b.Max[k] = max(b.Max[k], p[k])
			}
		}
	}
	return b
}

// Join returns the given solids as one mesh, in order, nothing merged. It is a
// union only where they don't touch.
func Join(meshes ...Mesh) Mesh {
	var out Mesh
	for _, m := range meshes {
		base := int32(len(out.Vertices))
		out.Vertices = append(out.Vertices, m.Vertices...)
		for _, t := range m.Triangles {
			out.Triangles = append(out.Triangles, [3]int32{t[0] + base, t[1] + base, t[2] + base})
		}
	}
	return out
}

// Weld merges vertices with exactly equal coordinates (0 and −0 are equal), and
// drops vertices that no triangle uses. Vertices keep the order of their first
// use. Triangles keep their number and order even where two of their corners
// became one; [Mesh.Check] reports those.
//
// This is how a format without shared vertices, such as STL, is read; nothing
// is merged by distance, because two surfaces that are meant to be apart by a
// micrometre must stay apart.
func (m Mesh) Weld() Mesh {
	out := Mesh{Triangles: make([][3]int32, len(m.Triangles))}
	index := make(map[Vec]int32, len(m.Vertices)) // only looked up: its order reaches nothing
	for i, t := range m.Triangles {
		for k, v := range t {
			p := m.Vertices[v]
			at, seen := index[p]
			if !seen {
				at = int32(len(out.Vertices))
				index[p] = at
				out.Vertices = append(out.Vertices, p)
			}
			out.Triangles[i][k] = at
		}
	}
	return out
}

// Components returns the connected shells, each a mesh of its own, in the order
// of their first triangle. Two shells are connected where they share an edge;
// a vertex alone doesn't connect. A cavity is a component of negative volume.
func (m Mesh) Components() []Mesh {
	label, n := m.components()
	out := make([]Mesh, n)
	index := make([]int32, len(m.Vertices))
	owner := make([]int32, len(m.Vertices))
	for i := range owner {
		owner[i] = -1
	}
	byLabel := make([][]int32, n)
	for t, l := range label {
		byLabel[l] = append(byLabel[l], int32(t))
	}
	for l, ts := range byLabel {
		for _, ti := range ts {
			var tri [3]int32
			for k, v := range m.Triangles[ti] {
				if owner[v] != int32(l) {
					owner[v], index[v] = int32(l), int32(len(out[l].Vertices))
					out[l].Vertices = append(out[l].Vertices, m.Vertices[v])
				}
				tri[k] = index[v]
			}
			out[l].Triangles = append(out[l].Triangles, tri)
		}
	}
	return out
}

// components labels each triangle with its shell, numbered by first triangle.
func (m Mesh) components() (label []int32, n int) {
	sets := newSets(len(m.Triangles))
	m.eachEdge(func(lo, hi int32, halves []int32) {
		for _, h := range halves[1:] {
			sets.join(halves[0]/3, h/3)
		}
	})
	return sets.labels()
}
