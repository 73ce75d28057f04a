package solid

import "slices"

// star is what two neighbouring vertices u and v have around them, the triangles
// at u or v, and the fan that takes its place when both become one vertex at w:
//
//	    x                  x
//	  / | \              / | \
//	/   |   \          /   |   \
//	 \  u  / |          \  |  / |
//	  \ | /  |   →       \ | /  |
//	----v----          ----w----
//	    |                  |
//	    y                  y
type star struct {
	u, v int32
	ring []int32 // anticlockwise
	atU  int     // triangle i is at u for i < atU, else at v; its other corners are ring[i] and ring[i+1]
	// As seen against the normal, in a plane across it.
	normal     Vec
	flat       []Point // of the ring
	pu, pv, pw Point
	w          Vec
}

// gather finds the star of the edge of h; false where the ring meets itself: then
// the two can't become one (the link condition: T. K. Dey, H. Edelsbrunner, S.
// Guha and D. V. Nekhayev, "Topology preserving edge contraction", Publ. Inst.
// Math. 66 (1999) 23–45).
func (c *collapser) gather(s *star, h int32) bool {
	o := c.twin[h]
	s.u, s.v = c.tail(h), c.tail(o)
	s.ring = s.ring[:0]
	for g := c.twin[prevHalf(h)]; g != nextHalf(o); g = c.twin[prevHalf(g)] {
		s.ring = append(s.ring, c.tail(nextHalf(g)))
	}
	s.atU = len(s.ring)
	for g := c.twin[prevHalf(o)]; g != nextHalf(h); g = c.twin[prevHalf(g)] {
		s.ring = append(s.ring, c.tail(nextHalf(g)))
	}
	if len(s.ring) < 3 {
		return false
	}
	for i, v := range s.ring {
		if slices.Contains(s.ring[:i], v) {
			return false
		}
	}
	return true
}

const (
	// starFacing is the least cosine between the normal of a star and those of its
	// triangles, before and after: seen along the normal none turns over.
	starFacing = 0.02
	// starTurn is the least cosine between the normals of a triangle before and
	// after: 70°. One lower than the error allowed has no normal to speak of.
	starTurn = 0.34
	// starShape is the shape below which no triangle may fall by a collapse; where a
	// star has a worse one already, half of that: see triangleShape. Without the
	// half nothing could be done to needles, which a turned solid may be made of.
	starShape = 0.15
)

// apex returns the corner of triangle i that is not of the ring.
func (s *star) apex(i int) int32 {
	if i < s.atU {
		return s.u
	}
	return s.v
}

func (s *star) after(i int) int {
	if i++; i == len(s.ring) {
		return 0
	}
	return i
}

// sound reports whether the fan at w may take the place of the star: seen along
// one normal both cover the ring once, and no triangle turns or flattens beyond
// what is reasonable.
func (c *collapser) sound(s *star) bool {
	p := c.points
	x, y := s.ring[0], s.ring[s.atU]
	u, v, w := p[s.u], p[s.v], s.w
	edge := [2]Vec{v.Sub(u).Cross(p[x].Sub(u)), u.Sub(v).Cross(p[y].Sub(v))}
	// Each triangle counts as one: by their areas the two sides of an edge between a
	// large face and a small one would not both be seen.
	sum := edge[0].Unit().Add(edge[1].Unit())
	shape := min(triangleShape(u, v, p[x]), triangleShape(v, u, p[y]))
	for i, a := range s.ring {
		b, o := s.ring[s.after(i)], p[s.apex(i)]
		sum = sum.Add(p[a].Sub(o).Cross(p[b].Sub(o)).Unit())
		shape = min(shape, triangleShape(o, p[a], p[b]))
	}
	least := min(shape/2, starShape)
	s.normal = sum.Unit()
	faces := func(n Vec) bool { return n.Dot(s.normal) > starFacing*n.Length() }
	if !faces(edge[0]) || !faces(edge[1]) {
		return false
	}
	for i, r := range s.ring {
		a, b, o := p[r], p[s.ring[s.after(i)]], p[s.apex(i)]
		before, now := a.Sub(o).Cross(b.Sub(o)), a.Sub(w).Cross(b.Sub(w))
		if !faces(before) || !faces(now) || triangleShape(w, a, b) < least || Collinear(w, a, b) {
			return false
		}
		long := max(b.Sub(a).Length(), a.Sub(o).Length(), b.Sub(o).Length())
		if before.Length() > c.limit*long && before.Dot(now) < starTurn*before.Length()*now.Length() {
			return false
		}
	}
	return c.flatten(s)
}

// triangleShape is 1 for an equilateral triangle and 0 for one without area: the
// area over that of the square of the sides, 4√3·A/(a² + b² + c²). Source: R. P.
// Bhatia and K. L. Lawrence, "Two-dimensional finite element mesh generation based
// on stripwise automatic triangulation", Comput. Struct. 36 (1990) 309–319.
func triangleShape(a, b, c Vec) float64 {
	sides := nearestSquare(a, b) + nearestSquare(b, c) + nearestSquare(c, a)
	if !(sides > 0) {
		return 0
	}
	return 3.4641016151377544 * b.Sub(a).Cross(c.Sub(a)).Length() / sides
}

// flatten lays the star in a plane, the origin at w, and reports whether the ring
// goes round w once.
func (c *collapser) flatten(s *star) bool {
	f := Plane{Normal: s.normal}.Frame()
	f.Origin = s.w
	s.flat = s.flat[:0]
	for _, r := range s.ring {
		s.flat = append(s.flat, f.Flatten(c.points[r]))
	}
	s.pu, s.pv, s.pw = f.Flatten(c.points[s.u]), f.Flatten(c.points[s.v]), Point{}
	turns := 0
	for i, a := range s.flat {
		b := s.flat[s.after(i)]
		if !(cross2(a, b) > 0) {
			return false
		}
		if a[1] < 0 && b[1] >= 0 {
			turns++
		}
	}
	return turns == 1
}
