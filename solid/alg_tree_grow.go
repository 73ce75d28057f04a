package solid

import (
	"context"
	"math/bits"
)

// treeGrain is the number of triangles of a run: a few milliseconds of work.
const treeGrain = 1 << 14

// treeLeaf is the most triangles in a leaf.
const treeLeaf = 4

// Tree builds the bounding-volume hierarchy of a mesh. The mesh need not be
// closed and may have degenerate triangles; where a triangle names no vertex or
// a coordinate is not finite the error is a [*NotSolidError].
func (k Kernel) Tree(ctx context.Context, m Mesh) (*Tree, error) {
	if err := m.checkTree(); err != nil {
		return nil, err
	}
	t := &Tree{mesh: m, bounds: m.Bounds()}
	n := len(m.Triangles)
	if n == 0 {
		return t, ctx.Err()
	}
	// 1. Every triangle gets its place on the curve, and they are sorted by it.
	const step = "tree"
	keys := make([]uint64, n)
	c := newTreeCurve(t.bounds, n)
	err := k.each(ctx, step, n, treeGrain, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			keys[i] = c.key(&m, i)
		}
	})
	if err != nil {
		return nil, err
	}
	keys = treeSort(keys, c.indexBits)
	// 2. Corners and boxes in that order.
	t.order, t.faces = make([]int32, n), make([][3]int32, n)
	g := treeGrower{keys: keys, boxes: make([]treeBox, n), indexBits: c.indexBits}
	err = k.each(ctx, step, n, treeGrain, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			f := int32(keys[i] & (1<<c.indexBits - 1))
			t.order[i], t.faces[i] = f, m.Triangles[f]
			g.boxes[i] = treeBoxOf(&m.Vertices[t.faces[i][0]], &m.Vertices[t.faces[i][1]], &m.Vertices[t.faces[i][2]])
		}
	})
	if err != nil {
		return nil, err
	}
	// 3. The top of the tree, and what hangs under it, several at once.
	g.plan(0, int32(n))
	grown := make([][]treeNode, len(g.boughs))
	err = k.each(ctx, step, len(g.boughs), 1, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			grown[i] = g.bough(g.boughs[i])
		}
	})
	if err != nil {
		return nil, err
	}
	t.nodes = g.join(grown)
	return t, nil
}

// treeGrower makes nodes over runs of the curve. The nodes of the top come first,
// then those of each bough; which is which depends on the mesh alone, so the
// number of workers changes nothing.
type treeGrower struct {
	keys      []uint64
	boxes     []treeBox
	indexBits int
	top       []treeNode
	boughs    [][2]int32 // runs [lo, hi) of the curve
}

// treeBough marks in count that at is the number of a bough.
const treeBough = -1

// plan divides a run until the parts are boughs.
func (g *treeGrower) plan(lo, hi int32) (at, count int32) {
	if hi-lo <= treeGrain {
		g.boughs = append(g.boughs, [2]int32{lo, hi})
		return int32(len(g.boughs)) - 1, treeBough
	}
	at = int32(len(g.top))
	g.top = append(g.top, treeNode{})
	mid := g.split(lo, hi)
	var node treeNode
	node.at[0], node.count[0] = g.plan(lo, mid)
	node.at[1], node.count[1] = g.plan(mid, hi)
	g.top[at] = node
	return at, 0
}

// bough grows the nodes over a run, the root first. A single leaf hangs under a
// root whose other child is a box that nothing meets.
func (g *treeGrower) bough(run [2]int32) []treeNode {
	lo, hi := run[0], run[1]
	nodes := make([]treeNode, 0, (hi-lo)/2+1)
	if hi-lo > treeLeaf {
		g.grow(lo, hi, &nodes)
		return nodes
	}
	node := treeNode{at: [2]int32{lo, lo}, count: [2]int32{hi - lo, 1}}
	node.box[0], _, _ = g.leaf(lo, hi)
	node.box[1] = noTreeBox
	return append(nodes, node)
}

func (g *treeGrower) leaf(lo, hi int32) (box treeBox, at, count int32) {
	box = g.boxes[lo]
	for i := lo + 1; i < hi; i++ {
		box.take(&g.boxes[i])
	}
	return box, lo, hi - lo
}

// grow makes the node over [lo, hi), and those below it after it.
func (g *treeGrower) grow(lo, hi int32, nodes *[]treeNode) (box treeBox, at, count int32) {
	if hi-lo <= treeLeaf {
		return g.leaf(lo, hi)
	}
	at = int32(len(*nodes))
	*nodes = append(*nodes, treeNode{})
	mid := g.split(lo, hi)
	var node treeNode
	node.box[0], node.at[0], node.count[0] = g.grow(lo, mid, nodes)
	node.box[1], node.at[1], node.count[1] = g.grow(mid, hi, nodes)
	(*nodes)[at] = node
	box = node.box[0]
	box.take(&node.box[1])
	return box, at, 0
}

// join puts the boughs behind the top, and gives the top its boxes from below.
func (g *treeGrower) join(grown [][]treeNode) []treeNode {
	size := len(g.top)
	root := make([]int32, len(grown))
	for i, nodes := range grown {
		root[i] = int32(size)
		size += len(nodes)
	}
	out := append(make([]treeNode, 0, size), g.top...)
	for i, nodes := range grown {
		for _, node := range nodes {
			for k := range 2 {
				if node.count[k] == 0 {
					node.at[k] += root[i]
				}
			}
			out = append(out, node)
		}
	}
	for i := len(g.top) - 1; i >= 0; i-- {
		node := &out[i]
		for k := range 2 {
			if node.count[k] == treeBough {
				node.at[k], node.count[k] = root[node.at[k]], 0
			}
			below := &out[node.at[k]]
			node.box[k] = below.box[0]
			node.box[k].take(&below.box[1])
		}
	}
	return out
}

// split finds where the highest bit that differs in a run of the curve changes:
// the run is halved where the curve crosses from one half of a cell to the other.
// Where all are in one cell it is halved by number.
func (g *treeGrower) split(lo, hi int32) int32 {
	first, last := g.keys[lo]>>g.indexBits, g.keys[hi-1]>>g.indexBits
	if first == last {
		return lo + (hi-lo)/2
	}
	shift := bits.Len64(first^last) - 1
	a, b := lo, hi-1 // keys[a] has a 0 there, keys[b] a 1
	for b-a > 1 {
		mid := a + (b-a)/2
		if g.keys[mid]>>g.indexBits>>shift&1 == 0 {
			a = mid
		} else {
			b = mid
		}
	}
	return b
}
