package solid

import (
	"cmp"
	"math"
	"slices"
)

// labelGround tells which faces at the given half-edges are parts of one flat
// ground: neighbours whose corners all lie within reach of the plane of the
// largest of them. It is done once, from the faces as they were given.
func (t *tidier) labelGround(made []int32) {
	var next [][2]int32 // faces that are neighbours, both ways
	for _, h := range made {
		f, g := t.source[h/3], t.source[t.twin[h]/3]
		next = append(next, [2]int32{f, g}, [2]int32{g, f})
	}
	slices.SortFunc(next, func(a, b [2]int32) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	next = slices.Compact(next)
	type seed struct {
		face, first int32 // first in next
		plane       facePlane
		area        float64
	}
	var seeds []seed
	at := map[int32]int{} // of a face: its place in byFace; only looked up
	for i, pair := range next {
		if i > 0 && next[i-1][0] == pair[0] {
			continue
		}
		p := t.planes(pair[0])
		a := p.corners[1].Sub(p.corners[0]).Cross(p.corners[2].Sub(p.corners[0])).Length()
		at[pair[0]] = len(seeds)
		seeds = append(seeds, seed{pair[0], int32(i), p, a})
	}
	byFace := slices.Clone(seeds)
	slices.SortStableFunc(seeds, func(a, b seed) int { return cmp.Compare(b.area, a.area) })
	t.ground = make(map[int32]int32, len(seeds))
	for _, s := range seeds {
		if _, done := t.ground[s.face]; done {
			continue
		}
		t.ground[s.face] = s.face
		for todo := []int32{s.face}; len(todo) > 0; {
			f := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for i := byFace[at[f]].first; int(i) < len(next) && next[i][0] == f; i++ {
				g := next[i][1]
				if _, done := t.ground[g]; !done && s.plane.holds(byFace[at[g]].plane, t.reach) {
					t.ground[g] = s.face
					todo = append(todo, g)
				}
			}
		}
	}
}

// holds reports whether a face lies in the plane within reach, the same way up.
func (p facePlane) holds(q facePlane, reach float64) bool {
	if !(p.normal.Dot(q.normal) > 0) {
		return false
	}
	for _, c := range q.corners {
		if math.Abs(p.normal.Dot(c.Sub(p.corners[0]))) > reach {
			return false
		}
	}
	return true
}

// groundOf returns the ground a half-edge lies on; a face that was never at one of
// the given half-edges is a ground of its own.
func (t *tidier) groundOf(h int32) int32 {
	source := t.source[h/3]
	if g, labelled := t.ground[source]; labelled {
		return g
	}
	return source
}

// collapseFlat removes vertices within flat ground, and along the straight line
// between two grounds.
func (t *tidier) collapseFlat() {
	for v := t.original; int(v) < len(t.points); v++ {
		if t.leaving[v] < 0 {
			continue
		}
		var ways, ridge []int32
		t.around(v, func(h int32) {
			ways = append(ways, h)
			if t.groundOf(h) != t.groundOf(t.twin[h]) {
				ridge = append(ridge, h)
			}
		})
		switch len(ridge) {
		case 0:
		case 2:
			if !t.straight(t.head(ridge[0]), v, t.head(ridge[1])) {
				continue
			}
			ways = ridge
		default:
			continue
		}
		// To the nearest neighbour that will do.
		slices.SortStableFunc(ways, func(a, b int32) int { return cmp.Compare(t.length(a), t.length(b)) })
		for _, h := range ways {
			if t.mayMove(h) && t.collapse(h) {
				break
			}
		}
	}
}

func (t *tidier) length(h int32) float64 {
	return t.points[t.head(h)].Sub(t.points[t.tail(h)]).Length()
}

// straight reports whether v lies between a and b, within reach of their line.
func (t *tidier) straight(a, v, b int32) bool {
	p, q, r := t.points[a], t.points[v], t.points[b]
	along := r.Sub(p)
	l := along.Length()
	return q.Sub(p).Dot(r.Sub(q)) >= 0 && q.Sub(p).Cross(along).Length() <= t.reach*l
}

// mayMove reports whether the tail of h can go to its head: no triangle turns
// over or falls flat, and no two vertices get a second edge between them.
func (t *tidier) mayMove(h int32) bool {
	v, w := t.tail(h), t.head(h)
	x, y := t.tail(prevHalf(h)), t.tail(prevHalf(t.twin[h]))
	var near []int32
	t.around(v, func(g int32) { near = append(near, t.head(g)) })
	slices.Sort(near)
	common := 0
	t.around(w, func(g int32) {
		if _, found := slices.BinarySearch(near, t.head(g)); found {
			common++
		}
	})
	if x == y || common != 2 {
		return false
	}
	fine := true
	t.around(v, func(g int32) {
		if !fine || g/3 == h/3 || g/3 == t.twin[h]/3 {
			return
		}
		i, j := t.planes(t.groundOf(g)).axes()
		flat := func(u int32) Point { return Point{t.points[u][i], t.points[u][j]} }
		fine = Orient(flat(w), flat(t.head(g)), flat(t.tail(prevHalf(g)))) == CounterClockwise
	})
	return fine
}

// flipFlat takes the long side of triangles without height away: it becomes the
// diagonal of the two triangles along it that leads to the corner lying on it.
//
//	     d                d
//	   /   \            / | \
//	  /     \          /  |  \
//	a ------- b  →   a -- c -- b
//	 \-- c --/
func (t *tidier) flipFlat() {
	for tri := t.whole; int(tri) < len(t.triangles); tri++ {
		if t.gone(tri) || t.height(t.triangles[tri]) > t.reach {
			continue
		}
		long := 3 * tri
		for h := 3*tri + 1; h < 3*tri+3; h++ {
			if t.length(h) > t.length(long) {
				long = h
			}
		}
		t.flip(long)
	}
}

// height returns the least height of a triangle; 0 where its corners lie exactly
// on a line.
func (t *tidier) height(tri [3]int32) float64 {
	a, b, c := t.points[tri[0]], t.points[tri[1]], t.points[tri[2]]
	if Collinear(a, b, c) {
		return 0
	}
	long := max(b.Sub(a).Length(), c.Sub(b).Length(), a.Sub(c).Length())
	return b.Sub(a).Cross(c.Sub(a)).Length() / long
}

// flip replaces the edge of half-edge h, from a to b in the triangle a, b, c, by
// the other diagonal, where that makes the flatter of the two triangles higher, or
// both no less flat but shorter.
func (t *tidier) flip(h int32) {
	o := t.twin[h]
	a, b, c, d := t.tail(h), t.head(h), t.tail(prevHalf(h)), t.tail(prevHalf(o))
	p, q := h/3, o/3
	first, second := [3]int32{a, d, c}, [3]int32{d, b, c}
	if c == d || p == q || !t.better(t.triangles[p], t.triangles[q], first, second) && !t.shorter(h, first, second) {
		return
	}
	joined := false
	t.around(c, func(g int32) { joined = joined || t.head(g) == d })
	if joined && t.foldIn(h/3) {
		return
	}
	bc, ca, ad, db := t.twin[nextHalf(h)], t.twin[prevHalf(h)], t.twin[nextHalf(o)], t.twin[prevHalf(o)]
	// Sides of the two triangles may be each other's: then the twin is where
	// that side is now.
	moved := map[int32]int32{nextHalf(h): 3*q + 1, prevHalf(h): 3*p + 2, nextHalf(o): 3 * p, prevHalf(o): 3 * q}
	now := func(g int32) int32 {
		if m, ok := moved[g]; ok {
			return m
		}
		return g
	}
	t.triangles[p], t.triangles[q] = first, second
	t.source[p] = t.source[q] // the flat one had no ground of its own
	t.link(3*p, now(ad))
	t.link(3*p+1, 3*q+2)
	t.link(3*p+2, now(ca))
	t.link(3*q, now(db))
	t.link(3*q+1, now(bc))
	t.leaving[a], t.leaving[b], t.leaving[c], t.leaving[d] = 3*p, 3*q+1, 3*p+2, 3*q
	t.changes++
	if joined {
		t.untie(c)
	}
}

// foldIn takes out a corner of a flat triangle that has only two more triangles.
// Those lie in one plane, since they share the line of the flat one and their third
// corner, and are as good as the one triangle that is left.
func (t *tidier) foldIn(tri int32) bool {
	for h := 3 * tri; h < 3*tri+3; h++ {
		faces := 0
		t.around(t.tail(h), func(int32) { faces++ })
		if w := t.head(h); faces == 3 && t.collapse(h) {
			t.untie(w)
			return true
		}
	}
	return false
}

// better reports whether the flatter of two triangles is higher than that of two
// others.
func (t *tidier) better(p, q, first, second [3]int32) bool {
	return min(t.height(first), t.height(second)) > min(t.height(p), t.height(q))
}

// shorter reports whether the diagonal between the two triangles, which are flat
// as well, is shorter than the edge of h: flat triangles along a line get shorter
// until their edges are short enough to collapse, or one of them meets a high one.
func (t *tidier) shorter(h int32, first, second [3]int32) bool {
	return max(t.height(first), t.height(second)) <= t.reach && t.points[first[1]].Sub(t.points[first[2]]).Length() < t.length(h)
}

// dropFlat removes components that have no inside: for their area, their volume is
// no thicker than rounding. Those with many more whole faces than others aren't looked at: they
// came with the operands.
func (t *tidier) dropFlat() {
	from := map[int32]int32{} // of a triangle: the first one it was reached from; only looked up
	filled := len(t.triangles) - int(t.whole)
	none := roundingOf(boxOf(t.points...))
	for first := t.whole; int(first) < len(t.triangles); first++ {
		if _, seen := from[first]; seen || t.gone(first) {
			continue
		}
		from[first] = first
		origin := t.points[t.triangles[first][0]]
		part := []int32{first}
		kept := false
		whole := 0
		var volume, area float64
		for i := 0; i < len(part) && !kept; i++ {
			tri := t.triangles[part[i]]
			a, b, c := t.points[tri[0]].Sub(origin), t.points[tri[1]].Sub(origin), t.points[tri[2]].Sub(origin)
			volume += a.Dot(b.Cross(c)) / 6
			area += b.Sub(a).Cross(c.Sub(a)).Length() / 2
			if part[i] < t.whole {
				whole++
			}
			for h := 3 * part[i]; h < 3*part[i]+3; h++ {
				next := t.twin[h] / 3
				if reached, seen := from[next]; !seen {
					from[next] = first
					part = append(part, next)
				} else if reached != first {
					kept = true // part of a component that is
				}
			}
			kept = kept || whole > 2*filled
		}
		if !kept && math.Abs(volume) <= none*area {
			for _, tri := range part {
				for _, v := range t.triangles[tri] {
					t.leaving[v] = -1
				}
				t.take(tri)
			}
		}
	}
}
