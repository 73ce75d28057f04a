package solid

import (
	"cmp"
	"math"
	"slices"
)

// Triangulate divides the region into triangles over its points, numbered outer
// loop first, then the holes in order. There are always n + 2·holes − 2 of them,
// all anticlockwise, none degenerate and every point used, where the region is
// sound (see [Region.Check]); where it isn't, as many triangles, some of which
// overlap or have no area.
//
// Holes are tied to the loop around them by bridges, ears are cut off the single
// loop that results (G. H. Meisters, "Polygons have ears", Amer. Math. Monthly
// 82 (1975) 648–651; bridges after D. Eberly, "Triangulation by ear clipping",
// 2002), and the long thin ones are improved by flipping diagonals (C. L. Lawson,
// 1977). Every decision is an exact sign. An ear must hold no other vertex on its
// edges either, which is why no triangle is degenerate.
func (r Region) Triangulate() [][3]int32 { return triangulate(r.Loops(), 0, nil).triangles }

// patch is a part of the plane in triangles. Half-edges are those of [Mesh]; each
// has a twin in the patch, or is an edge of the outline: then twin holds ^i for
// the edge that leaves point i of the loops.
type patch struct {
	triangles [][3]int32
	twin      []int32
}

// triangulate handles one outer loop and its holes. Whatever the loops, there are
// n + 2·holes − 2 triangles and every edge of the loops is an edge of one of them.
// Sound loops have a reach of 0; where they may touch or cross by rounding, it is
// how far. Where points of the loops are the same vertex, names tells which.
func triangulate(loops [][]Point, reach float64, names []int32) patch {
	e := &ears{reach: reach, names: names}
	base := int32(0)
	var holes [][]int32
	for l, loop := range loops {
		nodes := e.addLoop(loop, base)
		base += int32(len(loop))
		if l > 0 && len(nodes) > 0 {
			holes = append(holes, nodes)
		}
	}
	if len(loops) == 0 || len(loops[0]) < 3 {
		return patch{}
	}
	start := e.bridge(int32(0), holes)
	e.clip(start)
	flipThin(e.points, e.out)
	return e.out
}

// ears is a ring of nodes; a point at the end of a bridge has two.
type ears struct {
	points     []Point // by number of the caller
	point      []int32 // of a node
	prev, next []int32 // of a node
	edge       []int32 // of a node: which edge leaves it, see edgeBehind
	bridges    []int32 // half-edge on the first side of each bridge; −1: none yet
	reflex     []bool  // of a node: not strictly convex, so it may block an ear
	gone       []bool
	names      []int32 // of a point: the vertex it is; nil where each is its own
	left       int     // nodes in the ring
	reach      float64 // below this a width is none; see trim
	grid       grid
	out        patch
}

// What runs from a node to the next one is an edge of the outline, a side of a
// bridge, or the far side of a triangle already cut off. ears.edge holds the
// number of the point the edge leaves; or the number of points and that of the
// bridge; or ^h for half-edge h of the triangle.

// emit adds the triangle of three nodes in a row. Its third side, from c back to
// a, is closed by the ring's new edge from a to c, or, in the last triangle, is
// the ring's edge from c to a.
func (e *ears) emit(a, b, c int32, last bool) {
	h := int32(len(e.out.twin))
	e.out.triangles = append(e.out.triangles, [3]int32{e.point[a], e.point[b], e.point[c]})
	e.out.twin = append(e.out.twin, 0, 0, 0)
	e.settle(h, e.edge[a])
	e.settle(h+1, e.edge[b])
	if last {
		e.settle(h+2, e.edge[c])
	} else {
		e.edge[a] = ^(h + 2)
	}
}

// settle finds the twin of half-edge h, which runs along an edge of the ring.
func (e *ears) settle(h, edge int32) {
	bridge := edge - int32(len(e.points))
	switch {
	case edge < 0:
		e.out.twin[h], e.out.twin[^edge] = ^edge, h
	case bridge < 0:
		e.out.twin[h] = ^edge
	case e.bridges[bridge] < 0:
		e.bridges[bridge] = h
	default:
		e.out.twin[h], e.out.twin[e.bridges[bridge]] = e.bridges[bridge], h
	}
}

func (e *ears) addLoop(loop []Point, base int32) []int32 {
	first := int32(len(e.point))
	n := int32(len(loop))
	nodes := make([]int32, n)
	for i := range n {
		nodes[i] = first + i
		e.points = append(e.points, loop[i])
		e.point = append(e.point, base+i)
		e.edge = append(e.edge, base+i)
		e.prev = append(e.prev, first+(i+n-1)%n)
		e.next = append(e.next, first+(i+1)%n)
	}
	return nodes
}

func (e *ears) at(node int32) Point { return e.points[e.point[node]] }

// copyNode adds a second node at the same point.
func (e *ears) copyNode(node int32) int32 {
	c := int32(len(e.point))
	e.point = append(e.point, e.point[node])
	e.edge = append(e.edge, e.edge[node])
	e.prev = append(e.prev, -1)
	e.next = append(e.next, -1)
	return c
}

func (e *ears) link(a, b int32) { e.next[a], e.prev[b] = b, a }

// bridge ties the holes into the loop of node start, leftmost first, so that
// what a hole sees to its left is already tied in.
func (e *ears) bridge(start int32, holes [][]int32) int32 {
	leftmost := make([]int32, len(holes))
	for i, nodes := range holes {
		leftmost[i] = slices.MinFunc(nodes, func(a, b int32) int {
			p, q := e.at(a), e.at(b)
			return slices.Compare(p[:], q[:])
		})
	}
	order := make([]int, len(holes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		p, q := e.at(leftmost[i]), e.at(leftmost[j])
		return slices.Compare(p[:], q[:])
	})
	for k, i := range order {
		hole := leftmost[i]
		outer := e.bridgeEnd(start, hole, leftmost, order[k:])
		//  … → outer → hole → … round the hole … → hole' → outer' → …
		hole2, outer2 := e.copyNode(hole), e.copyNode(outer)
		after, before := e.next[outer], e.prev[hole]
		e.link(before, hole2)
		e.link(hole2, outer2)
		e.link(outer2, after)
		e.link(outer, hole)
		// The copy of outer has taken over its edge; hole keeps its own.
		side := int32(len(e.points) + len(e.bridges))
		e.bridges = append(e.bridges, -1)
		e.edge[outer], e.edge[hole2] = side, side
	}
	return start
}

// bridgeEnd returns the nearest node of the loop of start that the hole's node
// can see past the loop and the holes not yet tied in; or the nearest one at all
// where input that is wrong leaves none.
func (e *ears) bridgeEnd(start, hole int32, leftmost []int32, open []int) int32 {
	p := e.at(hole)
	type candidate struct {
		node int32
		dist float64
	}
	var list []candidate
	for n := start; ; {
		q := e.at(n)
		// The leftmost vertex of the leftmost hole sees some vertex not to its
		// right, so looking left is enough.
		if q[0] <= p[0] {
			list = append(list, candidate{n, dot2(q.sub(p), q.sub(p))})
		}
		if n = e.next[n]; n == start {
			break
		}
	}
	slices.SortStableFunc(list, func(a, b candidate) int { return cmp.Compare(a.dist, b.dist) })
	for _, c := range list {
		q := e.at(c.node)
		if !e.inCone(c.node, p) || !e.inCone(hole, q) || !e.sees(start, p, q) {
			continue
		}
		if !slices.ContainsFunc(open, func(i int) bool { return !e.sees(leftmost[i], p, q) }) {
			return c.node
		}
	}
	if len(list) > 0 {
		return list[0].node
	}
	return start
}

// inCone reports whether the direction from a node to p starts into the polygon.
func (e *ears) inCone(node int32, p Point) bool {
	a, v, b := e.at(e.prev[node]), e.at(node), e.at(e.next[node])
	if Orient(a, v, b) == CounterClockwise {
		return Orient(a, v, p) == CounterClockwise && Orient(v, b, p) == CounterClockwise
	}
	return Orient(a, v, p) == CounterClockwise || Orient(v, b, p) == CounterClockwise
}

// sees reports whether no edge of the loop of start meets the segment p–q other
// than at p or q themselves.
func (e *ears) sees(start int32, p, q Point) bool {
	for n := start; ; {
		a, b := e.at(n), e.at(e.next[n])
		switch {
		case a == p || a == q || b == p || b == q:
			for _, c := range [2]Point{a, b} {
				if c != p && c != q && onSegment(c, p, q) {
					return false
				}
			}
		case segmentsMeet(a, b, p, q):
			return false
		}
		if n = e.next[n]; n == start {
			return true
		}
	}
}

func onSegment(c, p, q Point) bool {
	return Orient(p, q, c) == Straight && dot2(p.sub(c), q.sub(c)) <= 0
}

// clip cuts ears off the ring until three nodes are left.
func (e *ears) clip(start int32) {
	n := len(e.point)
	e.reflex, e.gone = make([]bool, n), make([]bool, n)
	places := make([]Point, n)
	left := 0
	for v := start; ; {
		e.reflex[v] = e.isReflex(v)
		left++
		if v = e.next[v]; v == start {
			break
		}
	}
	for i := range places {
		places[i] = e.at(int32(i))
	}
	e.grid = newGrid(places)
	e.left = left
	v := e.trim(start, left)
	for tried := 0; e.left > 3; {
		if tried < e.left && !e.isEar(v) {
			v, tried = e.next[v], tried+1
			continue
		}
		if tried >= e.left {
			v = e.leastArea(v) // no ear: input that is wrong, or rounding
		}
		a, c := e.prev[v], e.next[v]
		e.cut(v)
		// Skipping one spreads the ears round the loop and avoids long fans.
		v, tried = e.next[e.trim(c, 1)], 0
		if e.reach > 0 && !e.gone[a] {
			v = e.trim(a, 1)
		}
	}
	if e.left == 3 {
		e.emit(e.prev[v], v, e.next[v], true)
	}
}

// cut takes node v out of the ring as a triangle.
func (e *ears) cut(v int32) {
	a, c := e.prev[v], e.next[v]
	e.emit(a, v, c, false)
	e.link(a, c)
	e.gone[v] = true
	e.reflex[a], e.reflex[c] = e.isReflex(a), e.isReflex(c)
	e.left--
}

// trim cuts off the spikes among n nodes from v on, and those that appear, and
// returns a node that is left. A spike, where the ring turns back on itself within
// reach, encloses nothing; left to the search for ears it would look like an edge
// with something on both sides.
func (e *ears) trim(v int32, n int) int32 {
	if e.reach == 0 {
		return v
	}
	for ; n > 0 && e.left > 3; n-- {
		if !e.isSpike(v) {
			v = e.next[v]
			continue
		}
		a := e.prev[v]
		e.cut(v)
		v, n = a, n+2 // the nodes on both sides have a new neighbour
	}
	return v
}

// around reports whether the nodes on both sides of v are one vertex: a triangle
// there would have an edge from that vertex to itself.
func (e *ears) around(v int32) bool {
	a, c := e.point[e.prev[v]], e.point[e.next[v]]
	return a == c || e.names != nil && e.names[a] == e.names[c]
}

func (e *ears) isSpike(v int32) bool {
	if e.around(v) {
		return false
	}
	b := e.at(v)
	to, from := e.at(e.prev[v]).sub(b), e.at(e.next[v]).sub(b)
	long := math.Sqrt(max(dot2(to, to), dot2(from, from)))
	return dot2(to, from) >= -e.reach*long && math.Abs(cross2(to, from)) <= e.reach*long
}

func (e *ears) isReflex(v int32) bool {
	return Orient(e.at(e.prev[v]), e.at(v), e.at(e.next[v])) != CounterClockwise
}

// isEar reports whether the triangle at v is part of the polygon: v is strictly
// convex and no other vertex lies in the triangle or on its edges.
func (e *ears) isEar(v int32) bool {
	if e.reflex[v] || e.around(v) {
		return false
	}
	u, w := e.prev[v], e.next[v]
	a, b, c := e.at(u), e.at(v), e.at(w)
	clear := true
	e.grid.visit(a, b, c, func(n int32) bool {
		if n == u || n == v || n == w || e.gone[n] || !e.reflex[n] {
			return true
		}
		clear = !e.blocks(n, a, b, c)
		return clear
	})
	return clear
}

// blocks reports whether node n keeps a, b, c from being an ear. A node at the
// same place as a corner, from a bridge or a touching loop, blocks where one of
// its edges leads into the triangle.
func (e *ears) blocks(n int32, a, b, c Point) bool {
	p := e.at(n)
	if Orient(a, b, p) == Clockwise || Orient(b, c, p) == Clockwise || Orient(c, a, p) == Clockwise {
		return false
	}
	into := func(before, corner, after Point) bool {
		for _, q := range [2]Point{e.at(e.prev[n]), e.at(e.next[n])} {
			if Orient(before, corner, q) == CounterClockwise && Orient(corner, after, q) == CounterClockwise {
				return true
			}
		}
		return false
	}
	switch p {
	case a:
		return into(c, a, b)
	case b:
		return into(a, b, c)
	case c:
		return into(b, c, a)
	}
	return true
}

// leastArea returns the node of the ring whose triangle has the least area.
func (e *ears) leastArea(start int32) int32 {
	best, least := start, math.Inf(1)
	for v := start; ; {
		b := e.at(v)
		area := math.Abs(cross2(b.sub(e.at(e.prev[v])), e.at(e.next[v]).sub(b)))
		if area < least && !e.around(v) {
			best, least = v, area
		}
		if v = e.next[v]; v == start {
			return best
		}
	}
}
