package solid

import (
	"math"
	"slices"
)

// tidy removes from a surface what an operation made and nobody needs: edges too
// short to mean anything, vertices within flat ground or along a straight ridge,
// triangles with no height. It touches only vertices the operation made; those of
// the operands keep their place. The surface stays closed whatever it does, since
// it works on sides that know each other (see surface), and ends with one vertex
// for each fan and one edge between any two vertices, so that the indexed
// triangles alone say who is whose neighbour.
//
// The surface moves by no more than reach, and no error stacks: a vertex goes only
// to where another one is, and flat ground is told by the planes of the operands'
// faces, not by what is left of them.
func (r *surface) tidy(planes func(source int32) facePlane) {
	t := &tidier{surface: r, planes: planes, reach: r.reach}
	t.splitFans()
	made := t.madeCorners()
	if len(made) == 0 {
		return
	}
	t.labelGround(made)
	t.untieAll()
	for range tidyRounds {
		before := t.changes
		t.collapseShort()
		t.collapseFlat()
		t.flipFlat()
		t.untieAll()
		if t.changes == before {
			break
		}
	}
	t.dropFlat()
	t.nudgeFlat()
}

// tidyRounds bounds the work: each round removes something, and what one round
// frees for the next is rare and little.
const tidyRounds = 8

// reachShare of the size of the whole is the length below which nothing means
// anything: some thousand times the rounding error of a coordinate, a millionth
// of a micrometre in a metre. Far from the origin the rounding error is larger
// than the size lets expect; reachUlps of it are then the least.
const (
	reachShare = 1e-12
	reachUlps  = 64
)

func reachOf(box Bounds) float64 {
	size := box.Size()
	return max(reachShare*max(size[0], size[1], size[2]), roundingOf(box))
}

// roundingOf is the least thickness that coordinates in a box can tell from none.
func roundingOf(box Bounds) float64 {
	far := 0.0
	for k := range 3 {
		far = max(far, math.Abs(box.Max[k]), math.Abs(box.Min[k]))
	}
	return reachUlps * far * 0x1p-53
}

type tidier struct {
	*surface
	planes  func(source int32) facePlane
	reach   float64
	leaving []int32         // of a vertex: a half-edge that leaves it; −1: it is gone
	ground  map[int32]int32 // of a face: the flat ground it is part of, named by a face; only looked up
	changes int
	fan     []int32 // of twoEdges, used again and again
}

// facePlane is a face of an operand: its corners, and its unit normal on the side
// that is outside in the result.
type facePlane struct {
	normal  Vec
	corners [3]Vec
}

func (t *tidier) tail(h int32) int32 { return t.triangles[h/3][h%3] }
func (t *tidier) head(h int32) int32 { return t.triangles[h/3][(h%3+1)%3] }

// gone reports whether a triangle has been removed.
func (t *tidier) gone(tri int32) bool { return t.triangles[tri][0] < 0 }

// around calls visit for the half-edges that leave v, clockwise.
func (t *tidier) around(v int32, visit func(h int32)) {
	first := t.leaving[v]
	for h := first; ; {
		visit(h)
		if h = t.twin[prevHalf(h)]; h == first {
			return
		}
	}
}

// splitFans gives every fan of triangles a vertex of its own.
func (t *tidier) splitFans() {
	t.leaving = make([]int32, len(t.points))
	for v := range t.leaving {
		t.leaving[v] = -1
	}
	seen := make([]bool, len(t.twin))
	for first := range int32(len(t.twin)) {
		if seen[first] {
			continue
		}
		v := t.tail(first)
		if t.leaving[v] >= 0 {
			v = t.copyVertex(v)
		}
		t.leaving[v] = first
		for h := first; !seen[h]; h = t.twin[prevHalf(h)] {
			seen[h] = true
			t.triangles[h/3][h%3] = v
		}
	}
}

func (t *tidier) copyVertex(v int32) int32 {
	t.points = append(t.points, t.points[v])
	t.leaving = append(t.leaving, -1)
	return int32(len(t.points)) - 1
}

// madeCorners returns the half-edges that leave vertices the operation made.
func (t *tidier) madeCorners() []int32 {
	var out []int32
	for v := t.original; int(v) < len(t.points); v++ {
		if t.leaving[v] >= 0 {
			t.around(v, func(h int32) { out = append(out, h) })
		}
	}
	return out
}

// mesh returns what is left as indexed triangles.
func (t *surface) mesh() Mesh {
	number := make([]int32, len(t.points))
	for v := range number {
		number[v] = -1
	}
	for _, tri := range t.triangles {
		if tri[0] >= 0 {
			number[tri[0]], number[tri[1]], number[tri[2]] = 0, 0, 0
		}
	}
	var m Mesh
	used := 0
	for _, n := range number {
		used += int(n) + 1
	}
	m.Vertices = make([]Vec, 0, used)
	for v, n := range number {
		if n == 0 {
			number[v] = int32(len(m.Vertices))
			m.Vertices = append(m.Vertices, t.points[v])
		}
	}
	m.Triangles = slices.DeleteFunc(t.triangles, func(tri [3]int32) bool { return tri[0] < 0 })
	for i, tri := range m.Triangles {
		m.Triangles[i] = [3]int32{number[tri[0]], number[tri[1]], number[tri[2]]}
	}
	return m
}
