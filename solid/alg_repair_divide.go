package solid

import (
	"cmp"
	"slices"
)

// divideEdges divides each triangle with an open edge on which other open
// vertices lie, within r.near, at those vertices; one edge of a triangle at a
// time. It reports whether it divided any.
func (r *repair) divideEdges() bool {
	var edges []int32
	r.m.eachEdge(func(_, _ int32, halves []int32) {
		if len(halves) == 1 {
			edges = append(edges, halves[0])
		}
	})
	if len(edges) == 0 {
		return false
	}
	slices.Sort(edges)
	var points []int32
	for v, open := range r.openVertices() {
		if open {
			points = append(points, int32(v))
		}
	}
	tree := newRepairTree(r.m.Vertices, points)
	before := len(r.m.Triangles)
	done := int32(-1) // the last triangle divided: its other edges wait
	for i, h := range edges {
		if i%repairGrain == 0 && r.ctx.Err() != nil {
			return false // what is half divided is thrown away
		}
		if h/3 == done {
			continue
		}
		if on := r.verticesOn(h, tree); len(on) > 0 {
			r.divide(h, on)
			done = h / 3
		}
	}
	return len(r.m.Triangles) > before
}

// verticesOn returns the open vertices that lie on half-edge h between its ends,
// in its direction.
func (r *repair) verticesOn(h int32, tree *repairTree) []int32 {
	tail, head, apex := r.m.tail(h), r.m.head(h), r.m.head(nextHalf(h))
	a := r.m.Vertices[tail]
	along := r.m.Vertices[head].Sub(a)
	length := along.Length()
	type place struct {
		vertex   int32
		at, away float64
	}
	var on []place
	tree.visit(a, r.m.Vertices[head], r.near, func(v int32) {
		if v == tail || v == head || v == apex {
			return
		}
		p := r.m.Vertices[v].Sub(a)
		at := p.Dot(along) / length
		away := p.Cross(along).Length() / length
		// What is near an end is that end, or was not to be merged with it.
		if at > r.near && at < length-r.near && away <= r.near {
			on = append(on, place{v, at, away})
		}
	})
	slices.SortFunc(on, func(p, q place) int {
		return cmp.Or(cmp.Compare(p.at, q.at), cmp.Compare(p.vertex, q.vertex))
	})
	var out []int32
	for _, p := range on {
		out = append(out, p.vertex)
	}
	if len(on) > 0 {
		far := slices.MaxFunc(on, func(p, q place) int { return cmp.Compare(p.away, q.away) })
		r.log.add(EdgeDivided, r.m.Vertices[on[0].vertex], far.away)
	}
	return out
}

// divide makes a fan about the corner opposite h out of its triangle.
func (r *repair) divide(h int32, on []int32) {
	apex, last := r.m.head(nextHalf(h)), r.m.head(h)
	r.m.Triangles[h/3] = [3]int32{r.m.tail(h), on[0], apex}
	for i, v := range on {
		next := last
		if i+1 < len(on) {
			next = on[i+1]
		}
		r.m.Triangles = append(r.m.Triangles, [3]int32{v, next, apex})
	}
}

// repairTree finds points near a segment: a balanced tree over points, halved
// along the axis of their largest spread, laid out in order so that the middle
// of a run is its root (J. L. Bentley, "Multidimensional binary search trees used
// for associative searching", Commun. ACM 18 (1975) 509–517).
type repairTree struct {
	at    []Vec
	items []int32
	axis  []uint8
}

func newRepairTree(at []Vec, items []int32) *repairTree {
	t := &repairTree{at, items, make([]uint8, len(items))}
	t.build(0, len(items))
	return t
}

func (t *repairTree) build(lo, hi int) {
	if hi-lo < 2 {
		return
	}
	low, high := t.at[t.items[lo]], t.at[t.items[lo]]
	for _, v := range t.items[lo:hi] {
		for k, x := range t.at[v] {
			low[k], high[k] = min(low[k], x), max(high[k], x)
		}
	}
	size := high.Sub(low)
	axis := 0
	for k := range 3 {
		if size[k] > size[axis] {
			axis = k
		}
	}
	slices.SortFunc(t.items[lo:hi], func(v, w int32) int {
		return cmp.Or(cmp.Compare(t.at[v][axis], t.at[w][axis]), cmp.Compare(v, w))
	})
	mid := (lo + hi) / 2
	t.axis[mid] = uint8(axis)
	t.build(lo, mid)
	t.build(mid+1, hi)
}

// visit calls f for every point in the box around a–b, widened by wide, and for
// others.
func (t *repairTree) visit(a, b Vec, wide float64, f func(v int32)) {
	var low, high Vec
	for k := range 3 {
		low[k], high[k] = min(a[k], b[k])-wide, max(a[k], b[k])+wide
	}
	var walk func(lo, hi int)
	walk = func(lo, hi int) {
		if lo >= hi {
			return
		}
		mid := (lo + hi) / 2
		v := t.items[mid]
		f(v)
		x, k := t.at[v][t.axis[mid]], t.axis[mid]
		if low[k] <= x {
			walk(lo, mid)
		}
		if high[k] >= x {
			walk(mid+1, hi)
		}
	}
	walk(0, len(t.items))
}
