package solid

// passThrough reports whether one surface passes through the other in a way that
// no single pair of triangles shows, or lies on it with the material on the same
// side. Pairs that cross are left to the caller.
//
//  1. Two faces in one plane, seen from outside alike, overlap in an area: both
//     solids lie on the same side of it.
//  2. An edge runs inside a face, and the triangles at the edge leave the face's
//     plane to both sides.
//
// What is left touches: no face has points of the other surface on both sides
// near it. Then a face with a contact lies within the other solid, on it or
// outside of it as a whole, but for parts of faces that lie on each other back
// to back; where one of these goes on into the other's material, the wall it
// meets there stands inside its own, and tells.
func passThrough(a, b Mesh, contacts []Contact) bool {
	type wall struct{ face, lo, hi int32 } // a face and an edge of the other mesh inside it
	sides := [2]map[wall][2]bool{{}, {}}
	for _, c := range contacts {
		if c.Kind != ContactTouching {
			continue
		}
		f, g := a.Triangles[c.Triangles[0]], b.Triangles[c.Triangles[1]]
		t, u := a.triangle(f), b.triangle(g)
		if t.coversAlike(u) {
			return true
		}
		for i, pair := range [2]struct {
			face  triangle
			index int32
			other triangle
			names [3]int32
		}{{t, c.Triangles[0], u, g}, {u, c.Triangles[1], t, f}} {
			s := pair.face.sides(pair.other)
			for k := range 3 {
				j, third := (k+1)%3, (k+2)%3
				if s[k] != On || s[j] != On || s[third] == On || !pair.face.holdsEdge(pair.other[k], pair.other[j]) {
					continue
				}
				at := wall{pair.index, min(pair.names[k], pair.names[j]), max(pair.names[k], pair.names[j])}
				seen := sides[i][at]
				if s[third] == Above {
					seen[0] = true
				} else {
					seen[1] = true
				}
				if seen[0] && seen[1] {
					return true
				}
				sides[i][at] = seen
			}
		}
	}
	return false
}

// coversAlike reports whether two triangles lie in one plane with the same side
// outside and their insides overlap.
func (t triangle) coversAlike(u triangle) bool {
	if t.sides(u) != [3]Side{} {
		return false
	}
	for k := range 3 {
		a := [3]Point{flatAlong(k, t[0]), flatAlong(k, t[1]), flatAlong(k, t[2])}
		turn := Orient(a[0], a[1], a[2])
		if turn == Straight {
			continue
		}
		b := [3]Point{flatAlong(k, u[0]), flatAlong(k, u[1]), flatAlong(k, u[2])}
		return Orient(b[0], b[1], b[2]) == turn && !edgesPart(a[:], turn, b[:]) && !edgesPart(b[:], turn, a[:])
	}
	return false
}

// edgesPart reports whether an edge of a polygon that turns the given way has all
// the points on its outer side or on its line: then their insides are apart.
func edgesPart(polygon []Point, turn Turning, points []Point) bool {
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		inner := false
		for _, r := range points {
			inner = inner || Orient(p, q, r) == turn
		}
		if !inner {
			return true
		}
	}
	return false
}

// holdsEdge reports whether a segment in the triangle's plane runs through its
// inside.
func (t triangle) holdsEdge(p, q Vec) bool {
	for k := range 3 {
		a := [3]Point{flatAlong(k, t[0]), flatAlong(k, t[1]), flatAlong(k, t[2])}
		turn := Orient(a[0], a[1], a[2])
		if turn == Straight {
			continue
		}
		e := [2]Point{flatAlong(k, p), flatAlong(k, q)}
		return !edgesPart(a[:], turn, e[:]) && !edgesPart(e[:], CounterClockwise, a[:]) && !edgesPart(e[:], Clockwise, a[:])
	}
	return false
}
