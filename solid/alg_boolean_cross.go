package solid

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// pierce is a place where an edge of one operand passes a face of the other.
type pierce struct {
	edge   int32 // half-edge from the lower to the higher vertex
	face   int32
	enters int8 // 1, or −1 where the edge leaves
	at     Vec
}

// findCrossings returns every place where an edge of P passes a face of Q, and
// where one of Q passes a face of P, ordered by edge and then by face.
func (k Kernel) findCrossings(ctx context.Context, s *shadows, p, q *Tree) (ofP, ofQ []pierce, err error) {
	pairs := newTreePairs(p, q)
	clear := clearOf * reachOf(s.p.Bounds().join(s.q.Bounds()))
	found := make([][2][]pierce, len(pairs.tasks))
	err = k.each(ctx, "find crossings", len(pairs.tasks), 4, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			list := &found[i]
			pairs.walk(ctx, pairs.tasks[i], func(f, g int32) {
				if s.p.besides(f, s.q, g, clear) || s.q.besides(g, s.p, f, clear) {
					return
				}
				list[0] = s.pierces(list[0], s.p, s.q, f, g, s.x12)
				list[1] = s.pierces(list[1], s.q, s.p, g, f, func(edge, face int32) (int8, Vec) { return s.x21(face, edge) })
			})
		}
	})
	for _, list := range found {
		ofP, ofQ = append(ofP, list[0]...), append(ofQ, list[1]...)
	}
	order := func(a, b pierce) int { return cmp.Or(cmp.Compare(a.edge, b.edge), cmp.Compare(a.face, b.face)) }
	slices.SortFunc(ofP, order)
	slices.SortFunc(ofQ, order)
	return ofP, ofQ, err
}

// clearOf is how many times what means nothing is a distance at which no
// comparison can be tipped by rounding: what is as far from a plane passes none of
// its faces, whatever the shadows are asked.
const clearOf = 1000

// besides reports whether face f lies clear of the plane of a face of another
// solid, all on one side.
func (o *operand) besides(f int32, other *operand, g int32, clear float64) bool {
	a, b, c := other.corners(other.Triangles[g])
	n := b.Sub(a).Cross(c.Sub(a))
	limit := clear * n.Length()
	p, q, r := o.corners(o.Triangles[f])
	x, y, z := n.Dot(p.Sub(a)), n.Dot(q.Sub(a)), n.Dot(r.Sub(a))
	return x > limit && y > limit && z > limit || x < -limit && y < -limit && z < -limit
}

// pierces adds where the edges of face f pass face g. An edge is looked at with
// the face in which it runs from its lower to its higher vertex, so once.
func (s *shadows) pierces(list []pierce, of, through *operand, f, g int32, cross func(edge, face int32) (int8, Vec)) []pierce {
	a, b, c := through.corners(through.Triangles[g])
	box := boxOf(a, b, c)
	for edge := 3 * f; edge < 3*f+3; edge++ {
		v, w := of.tail(edge), of.head(edge)
		if v > w || !boxOf(of.Vertices[v], of.Vertices[w]).meets(box) {
			continue
		}
		if enters, at := cross(edge, g); enters != 0 {
			list = append(list, pierce{edge, g, enters, at})
		}
	}
	return list
}

// windings returns for each vertex how often the other solid winds round it: 1
// inside, 0 outside. It is the same at both ends of an edge that passes no face,
// so it is worked out once for all the vertices that such edges join.
func (k Kernel) windings(ctx context.Context, o *operand, crossed []pierce, other *Tree, up bool, at func(v, face int32) int) ([]int32, error) {
	cut := make([]bool, 3*len(o.Triangles))
	for _, c := range crossed {
		cut[c.edge] = true
	}
	joined := newSets(len(o.Vertices))
	for half := range int32(len(cut)) {
		if v, w := o.tail(half), o.head(half); v < w && !cut[half] {
			joined.join(v, w)
		}
	}
	var first []int32 // of each set
	for v := range int32(len(joined)) {
		if joined.find(v) == v && o.leaving[v] >= 0 {
			first = append(first, v)
		}
	}
	out := make([]int32, len(o.Vertices))
	err := k.each(ctx, "tell inside from outside", len(first), 64, func(lo, hi int) {
		for _, v := range first[lo:hi] {
			out[v] = int32(windingAt(o.Vertices[v], other, up, func(face int32) int { return at(v, face) }))
		}
	})
	for v := range out {
		out[v] = out[joined.find(int32(v))]
	}
	return out, err
}

// windingAt sums what the faces over a point, or under it, say of it.
func windingAt(p Vec, t *Tree, up bool, at func(face int32) int) int {
	column := treeBox{p, p}
	if up {
		column[1][2] = math.Inf(1)
	} else {
		column[0][2] = math.Inf(-1)
	}
	winding := 0
	t.touching(column, func(face int32) { winding += at(face) })
	return winding
}

// windingOfP is what a face of Q says of a vertex of P.
func (s *shadows) windingOfP(v, face int32) int {
	if m, _ := s.s02(v, face); m.kept {
		return int(m.sign)
	}
	return 0
}

// windingOfQ is what a face of P says of a vertex of Q.
func (s *shadows) windingOfQ(v, face int32) int {
	if m, _ := s.s20(face, v); m.kept {
		return -int(m.sign)
	}
	return 0
}
