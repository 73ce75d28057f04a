package solid

import "math"

// operand is one of the two solids of a boolean.
type operand struct {
	Mesh
	opposite []int32 // of every half-edge, its other side
	leaving  []int32 // of every vertex, a half-edge that leaves it; −1: none
}

// shadows decides how the parts of two solids P and Q lie to each other. It
// looks at them along the axes, one after the other: which comes first in x,
// then, of what covers the same x, which comes first in y, then in z. Each answer
// is one comparison of two numbers, so it can't contradict itself, and each
// number is a function of whole edges and faces of the input, taken from the
// lower to the higher vertex, so that neighbours get the same one. What is closed
// in the input then stays closed in the result, whichever way a rounding error
// tips a comparison (J. Smith and N. Dodgson, "A topologically robust algorithm
// for Boolean operations on polyhedral shapes using approximate arithmetic",
// Computer-Aided Design 39 (2007) 149–163).
//
// Equal numbers are told apart as if Q had grown by a hair, and P by two (grow =
// 2), or as if P had shrunk by two (grow = −2). Solids that touch then overlap
// when they are united, and leave no skin when one is taken from the other. Two
// against one, since a face on a face must not end level with it again.
//
// The names are of the dimensions of what is compared: s01 a vertex and an edge,
// s02 a vertex and a face, s11 two edges, x12 an edge and a face. Of two numbers
// the first belongs to P; s10, s20 and x21 are the same the other way round.
type shadows struct {
	p, q *operand
	grow float64
}

// comes reports whether x, of P, comes before y, of Q; where they are equal,
// whether P's hair less Q's is negative.
func comes(x, y float64, hair func() float64) bool {
	if x == y {
		return hair() < 0
	}
	return x < y
}

// hair tells two things at the same place apart along an axis, by where they would
// go.
func (s *shadows) hair(p, q Vec, axis int) float64 { return float64(s.grow*p[axis]) - q[axis] }

// faceNormal returns the unit normal of face f; zero for a face without area.
func (o *operand) faceNormal(f int32) Vec {
	a, b, c := o.corners(o.Triangles[f])
	return b.Sub(a).Cross(c.Sub(a)).Unit()
}

// edgeNormal returns where the point of an edge goes as both its faces move out
// by one.
func (o *operand) edgeNormal(half int32) Vec {
	return outwards(o.faceNormal(half/3).Add(o.faceNormal(o.opposite[half]/3)), 2)
}

// vertexNormal returns where a vertex goes as the faces round it move out by one,
// each weighed by its angle there (G. Thürmer and C. Wüthrich, 1998).
func (o *operand) vertexNormal(v int32) Vec {
	var total Vec
	var weight float64
	first := o.leaving[v]
	for h := first; ; {
		a, b, c := o.Vertices[v], o.Vertices[o.head(h)], o.Vertices[o.tail(prevHalf(h))]
		u, w := b.Sub(a), c.Sub(a)
		angle := math.Atan2(u.Cross(w).Length(), u.Dot(w))
		total = total.Add(o.faceNormal(h / 3).Scale(angle))
		weight += angle
		if h = o.opposite[prevHalf(h)]; h == first {
			return outwards(total, weight)
		}
	}
}

// outwards returns the point along a weighted sum of unit normals that is, on the
// average, one away from the planes they belong to: the corner (1, 1, 1) for the
// three faces of a cube.
func outwards(total Vec, weight float64) Vec {
	l := total.Dot(total)
	if l == 0 {
		return Vec{}
	}
	return total.Scale(weight / l)
}

// mark is a place where the shadow of one thing enters or leaves that of
// another.
type mark struct {
	meets bool // there is such a place
	kept  bool // there the first comes before the second along the next axis
	sign  int8 // which way it is passed
}

// first reports whether vertex a of P comes before vertex b of Q in x.
func (s *shadows) first(a, b int32) bool {
	return comes(s.p.Vertices[a][0], s.q.Vertices[b][0], func() float64 {
		return s.hair(s.p.vertexNormal(a), s.q.vertexNormal(b), 0)
	})
}

// s01 looks from vertex a of P along y at an edge of Q: it meets it where the
// edge covers its x, at y and z, and is kept where the edge lies beyond. The edge
// is given as its half-edge from the lower to the higher vertex.
func (s *shadows) s01(a, edge int32) (m mark, y, z float64) {
	b0, b1 := s.q.tail(edge), s.q.head(edge)
	before0, before1 := s.first(a, b0), s.first(a, b1)
	if before0 == before1 {
		return mark{}, 0, 0
	}
	p := s.p.Vertices[a]
	y, z = edgeAt(s.q.Vertices[b0], s.q.Vertices[b1], p[0])
	m = mark{meets: true, sign: 1, kept: comes(p[1], y, func() float64 { return s.hair(s.p.vertexNormal(a), s.q.edgeNormal(edge), 1) })}
	if before0 {
		m.sign = -1
	}
	return m, y, z
}

// s10 is s01 for an edge of P and a vertex b of Q: kept where the edge comes
// before the vertex.
func (s *shadows) s10(edge, b int32) (m mark, y, z float64) {
	a0, a1 := s.p.tail(edge), s.p.head(edge)
	before0, before1 := s.first(a0, b), s.first(a1, b)
	if before0 == before1 {
		return mark{}, 0, 0
	}
	q := s.q.Vertices[b]
	y, z = edgeAt(s.p.Vertices[a0], s.p.Vertices[a1], q[0])
	m = mark{meets: true, sign: 1, kept: comes(y, q[1], func() float64 { return s.hair(s.p.edgeNormal(edge), s.q.vertexNormal(b), 1) })}
	if before1 {
		m.sign = -1
	}
	return m, y, z
}

// lowHigh returns the half-edge of an edge that runs from its lower to its higher
// vertex, and 1 if that is the given one, −1 if it is the other.
func (o *operand) lowHigh(half int32) (edge int32, along int8) {
	if o.tail(half) < o.head(half) {
		return half, 1
	}
	return o.opposite[half], -1
}

// s02 looks from vertex a of P along z at a face of Q: it meets it where the face
// covers its x and y, at height z, and is kept where the face lies above. The sign
// is 1 for a face seen from within.
func (s *shadows) s02(a, face int32) (m mark, z float64) {
	var at [2]Point // y and z where the edges cover the vertex's x: one kept, one not
	p := s.p.Vertices[a]
	met := 0
	var kept [2]bool
	for k := range int32(3) {
		edge, along := s.q.lowHigh(3*face + k)
		m01, y, z := s.s01(a, edge)
		if !m01.meets {
			continue
		}
		at[met], kept[met] = Point{y, z}, m01.kept
		met++
		if m01.kept {
			m.sign -= m01.sign * along
		}
	}
	if met < 2 || kept[0] == kept[1] {
		return mark{}, 0
	}
	z = between(at[0], at[1], p[1])
	m.meets = true
	m.kept = comes(p[2], z, func() float64 { return s.hair(s.p.vertexNormal(a), s.q.faceNormal(face), 2) })
	return m, z
}

// s20 is s02 for a face of P and a vertex b of Q: kept where the face lies below,
// the sign −1 for a face seen from within.
func (s *shadows) s20(face, b int32) (m mark, z float64) {
	var at [2]Point
	q := s.q.Vertices[b]
	met := 0
	var kept [2]bool
	for k := range int32(3) {
		edge, along := s.p.lowHigh(3*face + k)
		m10, y, z := s.s10(edge, b)
		if !m10.meets {
			continue
		}
		at[met], kept[met] = Point{y, z}, m10.kept
		met++
		if m10.kept {
			m.sign += m10.sign * along
		}
	}
	if met < 2 || kept[0] == kept[1] {
		return mark{}, 0
	}
	z = between(at[0], at[1], q[1])
	m.meets = true
	m.kept = comes(z, q[2], func() float64 { return s.hair(s.p.faceNormal(face), s.q.vertexNormal(b), 2) })
	return m, z
}

// station is a place in the x–y plane where an edge and what it is compared with
// have these heights.
type station struct{ x, y, zp, zq float64 }

// s11 looks along z at an edge of P and one of Q: they meet where they cross in
// x and y, and are kept where P's lies below.
func (s *shadows) s11(p, q int32) (m mark, at station) {
	var sp, sq [2]Vec // points of both at the ends of the stretch of x they share
	var kept [2]bool
	met := 0
	add := func(e mark, end int8, onP, onQ Vec) {
		if !e.meets {
			return
		}
		sp[met], sq[met], kept[met] = onP, onQ, e.kept
		met++
		if e.kept {
			m.sign += e.sign * end
		}
	}
	for i, a := range [2]int32{s.p.tail(p), s.p.head(p)} {
		e, y, z := s.s01(a, q)
		v := s.p.Vertices[a]
		add(e, int8(2*i-1), v, Vec{v[0], y, z})
	}
	for i, b := range [2]int32{s.q.tail(q), s.q.head(q)} {
		e, y, z := s.s10(p, b)
		v := s.q.Vertices[b]
		add(e, int8(2*i-1), Vec{v[0], y, z}, v)
	}
	if met < 2 || kept[0] == kept[1] {
		return mark{}, station{}
	}
	x, y, zp, zq := crossing(sp[0], sp[1], sq[0], sq[1])
	m.meets = true
	m.kept = comes(zp, zq, func() float64 {
		return s.hair(s.p.edgeNormal(p), s.q.edgeNormal(q), 2)
	})
	return m, station{x, y, zp, zq}
}

// x12 returns how often an edge of P enters a face of Q on its way from its lower
// to its higher vertex (1, 0, or −1 where it leaves), and where.
func (s *shadows) x12(edge, face int32) (enters int8, at Vec) {
	var ends stretch
	for i, a := range [2]int32{s.p.tail(edge), s.p.head(edge)} {
		m, z := s.s02(a, face)
		v := s.p.Vertices[a]
		ends.add(m, int8(2*i-1), station{v[0], v[1], v[2], z})
	}
	for k := range int32(3) {
		other, along := s.q.lowHigh(3*face + k)
		m, st := s.s11(edge, other)
		ends.add(m, along, st)
	}
	return ends.pierced()
}

// x21 is x12 for a face of P and an edge of Q.
func (s *shadows) x21(face, edge int32) (enters int8, at Vec) {
	var ends stretch
	for i, b := range [2]int32{s.q.tail(edge), s.q.head(edge)} {
		m, z := s.s20(face, b)
		v := s.q.Vertices[b]
		ends.add(m, int8(1-2*i), station{v[0], v[1], z, v[2]})
	}
	for k := range int32(3) {
		other, along := s.p.lowHigh(3*face + k)
		m, st := s.s11(other, edge)
		ends.add(m, along, st)
	}
	return ends.pierced()
}

// stretch is the part of an edge whose shadow along z falls on a face: it has two
// ends or none.
type stretch struct {
	at     [2]station
	kept   [2]bool
	met    int
	enters int8
}

func (t *stretch) add(m mark, way int8, at station) {
	if !m.meets {
		return
	}
	t.at[t.met], t.kept[t.met] = at, m.kept
	t.met++
	if m.kept {
		t.enters += m.sign * way
	}
}

// pierced returns where the edge passes the face: between the end that lies below
// it and the one that doesn't.
func (t *stretch) pierced() (enters int8, at Vec) {
	if t.met < 2 || t.kept[0] == t.kept[1] {
		return 0, Vec{}
	}
	l, r := t.at[0], t.at[1]
	// The same crossing of two lines, in x and z; y goes with x.
	x, z, y, _ := crossing(Vec{l.x, l.zp, l.y}, Vec{r.x, r.zp, r.y}, Vec{l.x, l.zq, l.y}, Vec{r.x, r.zq, r.y})
	return t.enters, Vec{x, y, z}
}
