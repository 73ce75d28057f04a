package solid

import (
	"math"
	"sync/atomic"
)

// operand is one of the two solids of a boolean.
type operand struct {
	Mesh
	opposite []int32         // of every half-edge, its other side
	leaving  []int32         // of every vertex, a half-edge that leaves it; −1: none
	outward  []once[float64] // of a vertex, see outwards
	normals  []once[Vec]     // of a face
}

// once is a number worked out when it is first asked for. Few are, and those
// often, so the first to ask keeps it for the others.
type once[T any] struct {
	state atomic.Uint32
	value T
}

// The states of a number. Whoever finds one being written works it out again.
const (
	unknown uint32 = iota
	written
	known
)

func (o *once[T]) get(find func() T) T {
	if o.state.Load() == known {
		return o.value
	}
	value := find()
	if o.state.CompareAndSwap(unknown, written) {
		o.value = value
		o.state.Store(known)
	}
	return value
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
	return o.normals[f].get(func() Vec {
		a, b, c := o.corners(o.Triangles[f])
		return b.Sub(a).Cross(c.Sub(a)).Unit()
	})
}

// edgeNormal returns the sum of the normals of the faces at an edge.
func (o *operand) edgeNormal(half int32) Vec {
	return o.faceNormal(half / 3).Add(o.faceNormal(o.opposite[half] / 3))
}

// outwards returns where vertex v goes along x as the solid grows: 1 or −1 where
// all the faces round it that look along x at all look that way. Where some look
// one way and some the other the vertex can't go with both: then it nearly stays,
// and where it meets a vertex that does go, that one decides.
func (o *operand) outwards(v int32) float64 {
	return o.outward[v].get(func() float64 { return o.findOutwards(v) })
}

// level is the x of a unit normal below which it is taken for 0: far more than its
// rounding error, far less than what a person would call a slope.
const level = 1e-9

// nearlyStays is what is left of the way of a vertex whose faces don't agree.
const nearlyStays = 0.1

func (o *operand) findOutwards(v int32) float64 {
	var total, weight float64
	ahead, back := false, false
	first := o.leaving[v]
	for h := first; ; {
		a, b, c := o.Vertices[v], o.Vertices[o.head(h)], o.Vertices[o.tail(prevHalf(h))]
		u, w := b.Sub(a), c.Sub(a)
		angle := math.Atan2(u.Cross(w).Length(), u.Dot(w))
		x := o.faceNormal(h / 3)[0]
		ahead, back = ahead || x > level, back || x < -level
		total += float64(angle * x)
		weight += angle
		if h = o.opposite[prevHalf(h)]; h == first {
			break
		}
	}
	switch {
	case ahead && !back:
		return 1
	case back && !ahead:
		return -1
	case weight > 0:
		return nearlyStays * total / weight
	}
	return 0
}

// mark is a place where the shadow of one thing enters or leaves that of
// another.
type mark struct {
	meets bool // there is such a place
	kept  bool // there the first comes before the second along the next axis
	sign  int8 // which way it is passed
}

// bracket collects where a shadow enters and leaves: what is kept of that, and
// what isn't, lie to both sides of the place that is looked for. The signs of all
// together sum to nothing, so where those of the kept don't, there are both.
type bracket[T any] struct {
	kept, rest T
	sign       int8 // of the kept
}

func (b *bracket[T]) add(m mark, way int8, at T) {
	switch {
	case !m.meets:
	case m.kept:
		b.kept = at
		b.sign += m.sign * way
	default:
		b.rest = at
	}
}

// first reports whether vertex a of P comes before vertex b of Q in x.
func (s *shadows) first(a, b int32) bool {
	return comes(s.p.Vertices[a][0], s.q.Vertices[b][0], func() float64 {
		return float64(s.grow*s.p.outwards(a)) - s.q.outwards(b)
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
	m = mark{meets: true, sign: 1, kept: comes(p[1], y, func() float64 { return s.hair(Vec{}, s.q.edgeNormal(edge), 1) })}
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
	m = mark{meets: true, sign: 1, kept: comes(y, q[1], func() float64 { return s.hair(s.p.edgeNormal(edge), Vec{}, 1) })}
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
	var edges bracket[Point] // y and z where the edges cover the vertex's x
	for k := range int32(3) {
		edge, along := s.q.lowHigh(3*face + k)
		e, y, z := s.s01(a, edge)
		edges.add(e, -along, Point{y, z})
	}
	if edges.sign == 0 {
		return mark{}, 0
	}
	p := s.p.Vertices[a]
	z = between(edges.kept, edges.rest, p[1])
	kept := comes(p[2], z, func() float64 { return s.hair(Vec{}, s.q.faceNormal(face), 2) })
	return mark{true, kept, edges.sign}, z
}

// s20 is s02 for a face of P and a vertex b of Q: kept where the face lies below,
// the sign −1 for a face seen from within.
func (s *shadows) s20(face, b int32) (m mark, z float64) {
	var edges bracket[Point]
	for k := range int32(3) {
		edge, along := s.p.lowHigh(3*face + k)
		e, y, z := s.s10(edge, b)
		edges.add(e, along, Point{y, z})
	}
	if edges.sign == 0 {
		return mark{}, 0
	}
	q := s.q.Vertices[b]
	z = between(edges.kept, edges.rest, q[1])
	kept := comes(z, q[2], func() float64 { return s.hair(s.p.faceNormal(face), Vec{}, 2) })
	return mark{true, kept, edges.sign}, z
}

// station is a place in the x–y plane where an edge and what it is compared with
// have these heights.
type station struct{ x, y, zp, zq float64 }

// s11 looks along z at an edge of P and one of Q: they meet where they cross in
// x and y, and are kept where P's lies below.
func (s *shadows) s11(p, q int32) (m mark, at station) {
	var ends bracket[[2]Vec] // points of both where the stretch of x they share ends
	for i, a := range [2]int32{s.p.tail(p), s.p.head(p)} {
		e, y, z := s.s01(a, q)
		v := s.p.Vertices[a]
		ends.add(e, int8(2*i-1), [2]Vec{v, {v[0], y, z}})
	}
	for i, b := range [2]int32{s.q.tail(q), s.q.head(q)} {
		e, y, z := s.s10(p, b)
		v := s.q.Vertices[b]
		ends.add(e, int8(2*i-1), [2]Vec{{v[0], y, z}, v})
	}
	if ends.sign == 0 {
		return mark{}, station{}
	}
	x, y, zp, zq := crossing(ends.kept[0], ends.rest[0], ends.kept[1], ends.rest[1])
	kept := comes(zp, zq, func() float64 { return s.hair(s.p.edgeNormal(p), s.q.edgeNormal(q), 2) })
	return mark{true, kept, ends.sign}, station{x, y, zp, zq}
}

// x12 returns how often an edge of P enters a face of Q on its way from its lower
// to its higher vertex (1, 0, or −1 where it leaves), and where.
func (s *shadows) x12(edge, face int32) (enters int8, at Vec) {
	var ends bracket[station] // of the part of the edge whose shadow falls on the face
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
	return pierced(ends)
}

// x21 is x12 for a face of P and an edge of Q.
func (s *shadows) x21(face, edge int32) (enters int8, at Vec) {
	var ends bracket[station]
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
	return pierced(ends)
}

// pierced returns where an edge passes a face: between an end of its shadow that
// lies below it and one that doesn't.
func pierced(ends bracket[station]) (enters int8, at Vec) {
	if ends.sign == 0 {
		return 0, Vec{}
	}
	l, r := ends.kept, ends.rest
	// The same crossing of two lines, in x and z; y goes with x.
	x, z, y, _ := crossing(Vec{l.x, l.zp, l.y}, Vec{r.x, r.zp, r.y}, Vec{l.x, l.zq, l.y}, Vec{r.x, r.zq, r.y})
	return ends.sign, Vec{x, y, z}
}
