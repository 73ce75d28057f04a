package solid

import "slices"

// collapse moves the tail of a half-edge to its head, v to w, and takes out the
// two triangles between:
//
//	      x                 x
//	    / | \             / |
//	   /  |  \           /  |
//	- v --+-- w -      ---- w -
//	   \  |  /           \  |
//	    \ | /             \ |
//	      y                 y
//
// It returns false, and changes nothing, where a triangle to take out is folded
// onto itself.
func (t *tidier) collapse(h int32) bool {
	o := t.twin[h]
	v, w := t.tail(h), t.head(h)
	if v == w || h/3 == o/3 {
		return false
	}
	hn, hp, on, op := t.twin[nextHalf(h)], t.twin[prevHalf(h)], t.twin[nextHalf(o)], t.twin[prevHalf(o)]
	if hn/3 == h/3 || on/3 == o/3 {
		return false
	}
	x, y := t.tail(prevHalf(h)), t.tail(prevHalf(o))
	switch {
	case hp == nextHalf(o) && hn == prevHalf(o): // the two triangles are all there is
		t.leaving[v], t.leaving[w], t.leaving[x] = -1, -1, -1
	case hp == nextHalf(o): // v has no other triangle
		t.link(hn, op)
		t.leaving[v], t.leaving[w], t.leaving[x] = -1, op, hn
	case hn == prevHalf(o): // w has no other triangle
		t.link(hp, on)
		t.leaving[v], t.leaving[w], t.leaving[x] = -1, hp, on
		t.rename(hp, w)
	default:
		t.rename(h, w)
		t.link(hn, hp)
		t.link(on, op)
		t.leaving[v], t.leaving[w], t.leaving[x], t.leaving[y] = -1, hp, hn, on
	}
	t.take(h / 3)
	t.take(o / 3)
	t.changes++
	return true
}

func (t *tidier) link(a, b int32) { t.twin[a], t.twin[b] = b, a }

func (t *tidier) take(tri int32) { t.triangles[tri] = [3]int32{-1, -1, -1} }

// rename gives the fan of half-edge h another vertex.
func (t *tidier) rename(h, vertex int32) {
	for g := h; ; {
		t.triangles[g/3][g%3] = vertex
		if g = t.twin[prevHalf(g)]; g == h {
			return
		}
	}
}

// collapseShort collapses the edges shorter than reach of the triangles that
// aren't whole faces. Of two vertices the later goes to the earlier, which is the
// one that was there before.
func (t *tidier) collapseShort() {
	for tri := t.whole; int(tri) < len(t.triangles); tri++ {
		for k := range int32(3) {
			if t.gone(tri) {
				break
			}
			if h := 3*tri + k; t.length(h) < t.reach {
				t.collapseLater(h)
			}
		}
	}
}

// collapseLater collapses an edge of any direction. Before and after, no two edges
// may join the same vertices, or one of them would become a loop.
func (t *tidier) collapseLater(h int32) {
	t.untie(t.tail(h))
	if t.gone(h / 3) {
		return
	}
	if t.tail(h) < t.head(h) {
		h = t.twin[h]
	}
	w := t.head(h)
	if t.collapse(h) && t.leaving[w] >= 0 {
		t.untie(w)
	}
}

// untie sees to it that no two edges join v to one other vertex. Two such edges
// are the same line, so their four sides can as well be paired the other way
// round. That cuts the surface open along them and closes both parts, and both
// vertices become two. A vertex left with two triangles, which then lie on each
// other, is taken out with them.
func (t *tidier) untie(v int32) {
	todo := []int32{v}
	for len(todo) > 0 {
		v := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if t.leaving[v] < 0 {
			continue
		}
		if h := t.leaving[v]; t.twin[prevHalf(t.twin[prevHalf(h)])] == h {
			w, x := t.head(h), t.tail(prevHalf(h))
			if t.collapse(h) {
				todo = append(todo, w, x)
			}
			continue
		}
		h, g := t.twoEdges(v)
		if h < 0 {
			continue
		}
		w := t.head(h)
		ho, back := t.twin[h], t.twin[g]
		t.link(h, back)
		t.link(g, ho)
		for _, side := range [2]int32{g, ho} {
			// h and the other side of g keep v and w.
			c := t.copyVertex(t.tail(side))
			t.leaving[c] = side
			t.rename(side, c)
			todo = append(todo, c)
		}
		t.leaving[v], t.leaving[w] = h, back
		todo = append(todo, v, w)
		t.changes++
	}
}

// twoEdges returns two half-edges from v to one vertex; −1 where there are none.
func (t *tidier) twoEdges(v int32) (h, g int32) {
	t.fan = t.fan[:0]
	t.around(v, func(h int32) {
		if t.head(h) != v {
			t.fan = append(t.fan, h)
		}
	})
	if len(t.fan) > fewEdges {
		slices.SortStableFunc(t.fan, func(a, b int32) int { return int(t.head(a) - t.head(b)) })
		for i := 1; i < len(t.fan); i++ {
			if t.head(t.fan[i]) == t.head(t.fan[i-1]) {
				return t.fan[i-1], t.fan[i]
			}
		}
		return -1, -1
	}
	for i, g := range t.fan {
		for _, h := range t.fan[:i] {
			if t.head(g) == t.head(h) {
				return h, g
			}
		}
	}
	return -1, -1
}

// fewEdges is how many edges at a vertex are compared one with another sooner than
// they are sorted; most vertices have six.
const fewEdges = 16

// untieAll unties every vertex at a triangle that isn't a whole face.
func (t *tidier) untieAll() {
	for tri := t.whole; int(tri) < len(t.triangles); tri++ {
		for k := range 3 {
			if !t.gone(tri) {
				t.untie(t.triangles[tri][k])
			}
		}
	}
}
