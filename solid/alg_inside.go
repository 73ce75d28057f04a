package solid

import "math"

// Place says where a point lies with regard to a solid.
type Place int8

// The three answers of [Tree.Locate].
const (
	Outside   Place = -1
	OnSurface Place = 0
	Inside    Place = 1
)

// Locate returns where a point lies with regard to the solid. The mesh must be
// closed; on one with open edges the answer means nothing. The answer is exact:
// a point is OnSurface exactly where it lies in a triangle, edges and corners
// included, and no edge or corner above it misleads the count. Where shells
// overlap, a point in any of them is Inside; in a cavity it is Outside.
func (t *Tree) Locate(p Vec) (Place, error) {
	for _, x := range p {
		if !(math.Abs(x) <= maxTreeCoordinate) {
			return Outside, &ValueError{"coordinate of the point", x, "at most 1e50"}
		}
	}
	winding, on := t.winding(&p)
	switch {
	case on:
		return OnSurface, nil
	case winding > 0:
		return Inside, nil
	default:
		return Outside, nil
	}
}

// winding returns how often the surface winds round p, or that p lies on it. It
// counts the triangles straight above p that a half-line along z leaves through
// less those it enters through. The half-line counts as moved by (ε, ε²) in x
// and y, ε positive and smaller than any number, so it meets no edge. Every
// decision is the sign of a determinant of given coordinates, found exactly: the
// edges by [Orient] of their shadows, above or below by [OrientSpace].
func (t *Tree) winding(p *Vec) (winding int, on bool) {
	if len(t.nodes) == 0 {
		return 0, false
	}
	stack := make([]int32, 1, treeDepth)
	for len(stack) > 0 {
		node := &t.nodes[stack[len(stack)-1]]
		stack = stack[:len(stack)-1]
		for k := range 2 {
			b := &node.box[k]
			if p[0] < b[0][0] || p[0] > b[1][0] || p[1] < b[0][1] || p[1] > b[1][1] || p[2] > b[1][2] {
				continue
			}
			if node.count[k] == 0 {
				stack = append(stack, node.at[k])
				continue
			}
			for i := node.at[k]; i < node.at[k]+node.count[k]; i++ {
				f := &t.faces[i]
				v := t.mesh.Vertices
				n, touches := windingOfTriangle(p, &v[f[0]], &v[f[1]], &v[f[2]])
				if touches {
					return 0, true
				}
				winding += n
			}
		}
	}
	return winding, false
}

// windingOfTriangle returns what a triangle above p adds to the winding, or that
// p lies in it.
func windingOfTriangle(p, a, b, c *Vec) (n int, touches bool) {
	box := treeBoxOf(a, b, c)
	if p[0] < box[0][0] || p[0] > box[1][0] || p[1] < box[0][1] || p[1] > box[1][1] || p[2] > box[1][2] {
		return 0, false
	}
	if p[2] >= box[0][2] && touchesTriangle(*p, *a, *b, *c) {
		return 0, true
	}
	s := shadowSide(p, a, b)
	if s == Straight || shadowSide(p, b, c) != s || shadowSide(p, c, a) != s {
		return 0, false
	}
	// Seen from below, a triangle that runs anticlockwise in x and y is left.
	if p[2] >= box[0][2] && OrientSpace(*a, *b, *c, *p) != Side(-s) {
		return 0, false
	}
	return int(s), false
}

// shadowSide returns on which side of the line from a to b, seen along z, the
// point p moved by (ε, ε²) lies.
func shadowSide(p, a, b *Vec) Turning {
	if s := Orient(Point{a[0], a[1]}, Point{b[0], b[1]}, Point{p[0], p[1]}); s != Straight {
		return s
	}
	if a[1] != b[1] {
		return turningOf(a[1] - b[1])
	}
	return turningOf(b[0] - a[0])
}

// touchesTriangle reports whether p lies in the closed triangle, exactly. A degenerate
// triangle is the segment its corners span.
func touchesTriangle(p, a, b, c Vec) bool {
	if OrientSpace(a, b, c, p) != On {
		return false
	}
	for k := range 3 {
		turn := Orient(flatAlong(k, a), flatAlong(k, b), flatAlong(k, c))
		if turn == Straight {
			continue
		}
		for _, e := range [...][2]Vec{{a, b}, {b, c}, {c, a}} {
			if Orient(flatAlong(k, e[0]), flatAlong(k, e[1]), flatAlong(k, p)) == -turn {
				return false
			}
		}
		return true
	}
	for _, e := range [...][2]Vec{{a, b}, {b, c}, {c, a}} {
		if touchesEdge(p, e[0], e[1]) {
			return true
		}
	}
	return false
}

// touchesEdge reports whether p lies between a and b, exactly.
func touchesEdge(p, a, b Vec) bool {
	for k := range 3 {
		if p[k] < min(a[k], b[k]) || p[k] > max(a[k], b[k]) {
			return false
		}
	}
	return Collinear(a, b, p)
}

// flatAlong returns the shadow of v along axis k.
func flatAlong(k int, v Vec) Point { return Point{v[(k+1)%3], v[(k+2)%3]} }
