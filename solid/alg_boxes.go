package solid

import (
	"context"
	"math"
)

// boxTree finds the triangles of one mesh that come near those of another. It is
// a packed tree: the triangles are put in order along a space-filling curve
// (G. M. Morton, 1966), every eight in a row share a box, every eight of those
// boxes share one, and so on up to a single box. There is nothing to balance and
// nothing to point with: the children of node i are 8·i to 8·i + 7 one level
// below. It is asked one question and thrown away, so it is quick to build first
// of all; [Tree], which is asked many, is built with more care.
type boxTree struct {
	mesh   Mesh
	order  []int32    // triangles along the curve: the children of level 0
	levels [][]Bounds // levels[0] is over triangles, the last has one box
}

const fanout = 8

// bitsAxis is the number of bits an axis has in a place on the curve; finer than
// the triangles of any mesh that fits in memory need.
const bitsAxis = 10

func (k Kernel) newBoxTree(ctx context.Context, m Mesh) (*boxTree, error) {
	t := &boxTree{mesh: m}
	whole := m.Bounds()
	var scale Vec
	for i, size := range whole.Size() {
		if size > 0 {
			scale[i] = (1<<bitsAxis - 1) / size
		}
	}
	keys := make([]uint64, len(m.Triangles)) // place on the curve, then the number
	err := k.each(ctx, "sort faces", len(keys), 1<<14, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			a, b, c := m.corners(m.Triangles[i])
			var code uint64
			for axis := range 3 {
				middle := (min(a[axis], b[axis], c[axis])+max(a[axis], b[axis], c[axis]))/2 - whole.Min[axis]
				code |= spread(uint64(middle*scale[axis])) << axis
			}
			keys[i] = code<<32 | uint64(i)
		}
	})
	if err != nil {
		return nil, err
	}
	t.order = sortedLow(keys)
	leaves := make([]Bounds, (len(t.order)+fanout-1)/fanout)
	err = k.each(ctx, "sort faces", len(leaves), 1<<11, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			leaves[i] = noBounds
			for _, f := range t.order[i*fanout : min(len(t.order), (i+1)*fanout)] {
				leaves[i] = leaves[i].join(t.faceBox(f))
			}
		}
	})
	t.levels = [][]Bounds{leaves}
	for below := leaves; len(below) > 1; below = t.levels[len(t.levels)-1] {
		level := make([]Bounds, (len(below)+fanout-1)/fanout)
		for i := range level {
			level[i] = noBounds
			for _, b := range below[i*fanout : min(len(below), (i+1)*fanout)] {
				level[i] = level[i].join(b)
			}
		}
		t.levels = append(t.levels, level)
	}
	return t, err
}

// spread puts two zero bits after every bit of the low ten.
func spread(x uint64) uint64 {
	x = (x | x<<16) & 0x030000ff
	x = (x | x<<8) & 0x0300f00f
	x = (x | x<<4) & 0x030c30c3
	x = (x | x<<2) & 0x09249249
	return x
}

// sortedLow sorts keys by their bits 32 to 61 and returns their low 32 bits: a
// radix sort from the lowest digit, stable, so equal places keep the order of
// the numbers.
func sortedLow(keys []uint64) []int32 {
	const digit = 10
	other := make([]uint64, len(keys))
	for shift := 32; shift < 32+3*bitsAxis; shift += digit {
		var count [1 << digit]int
		for _, x := range keys {
			count[x>>shift&(1<<digit-1)]++
		}
		at := 0
		for d, n := range count {
			count[d] = at
			at += n
		}
		for _, x := range keys {
			d := x >> shift & (1<<digit - 1)
			other[count[d]] = x
			count[d]++
		}
		keys, other = other, keys
	}
	low := make([]int32, len(keys))
	for i, x := range keys {
		low[i] = int32(uint32(x))
	}
	return low
}

// noBounds holds nothing; joined with a box it gives that box.
var noBounds = Bounds{
	Vec{math.Inf(1), math.Inf(1), math.Inf(1)},
	Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)},
}

func (b Bounds) join(c Bounds) Bounds {
	return Bounds{
		Vec{min(b.Min[0], c.Min[0]), min(b.Min[1], c.Min[1]), min(b.Min[2], c.Min[2])},
		Vec{max(b.Max[0], c.Max[0]), max(b.Max[1], c.Max[1]), max(b.Max[2], c.Max[2])},
	}
}

// meets reports whether two boxes share a point; touching counts.
func (b Bounds) meets(c Bounds) bool {
	return b.Min[0] <= c.Max[0] && c.Min[0] <= b.Max[0] &&
		b.Min[1] <= c.Max[1] && c.Min[1] <= b.Max[1] &&
		b.Min[2] <= c.Max[2] && c.Min[2] <= b.Max[2]
}

// boxOf returns the box around points.
func boxOf(points ...Vec) Bounds {
	b := noBounds
	for _, p := range points {
		b = b.join(Bounds{p, p})
	}
	return b
}

func (t *boxTree) faceBox(f int32) Bounds {
	a, b, c := t.mesh.corners(t.mesh.Triangles[f])
	return Bounds{
		Vec{min(a[0], b[0], c[0]), min(a[1], b[1], c[1]), min(a[2], b[2], c[2])},
		Vec{max(a[0], b[0], c[0]), max(a[1], b[1], c[1]), max(a[2], b[2], c[2])},
	}
}

// node is a box of a tree. Its children are triangles at level 0.
type node struct {
	level int8
	index int32
}

func (t *boxTree) root() node { return node{int8(len(t.levels) - 1), 0} }

func (t *boxTree) box(n node) *Bounds { return &t.levels[n.level][n.index] }

// children returns the numbers of the children of a node one level below, as a
// range; of a node of level 0 the range is one of t.order.
func (t *boxTree) children(n node) (lo, hi int32) {
	end := len(t.order)
	if n.level > 0 {
		end = len(t.levels[n.level-1])
	}
	return n.index * fanout, min(n.index*fanout+fanout, int32(end))
}

// touching calls visit for every triangle whose box meets the given one.
func (t *boxTree) touching(b Bounds, visit func(face int32)) {
	if len(t.order) > 0 && t.box(t.root()).meets(b) {
		t.touchingBelow(t.root(), &b, visit)
	}
}

func (t *boxTree) touchingBelow(n node, b *Bounds, visit func(face int32)) {
	lo, hi := t.children(n)
	for i := lo; i < hi; i++ {
		if n.level == 0 {
			if f := t.order[i]; t.faceBox(f).meets(*b) {
				visit(f)
			}
		} else if child := (node{n.level - 1, i}); t.box(child).meets(*b) {
			t.touchingBelow(child, b, visit)
		}
	}
}

// nodePair is two boxes, one of each tree, that meet.
type nodePair struct{ p, q node }

// manyPairs is how many pairs of boxes the search for near triangles is divided
// into: enough to keep many workers busy whatever the shapes.
const manyPairs = 2048

// meetingNodes returns pairs of boxes that meet and that hold every two
// triangles whose boxes do. They don't depend on the number of workers.
func meetingNodes(p, q *boxTree) []nodePair {
	if len(p.order) == 0 || len(q.order) == 0 || !p.box(p.root()).meets(*q.box(q.root())) {
		return nil
	}
	pairs := []nodePair{{p.root(), q.root()}}
	for len(pairs) < manyPairs {
		var finer []nodePair
		deeper := false
		for _, pair := range pairs {
			if pair.p.level == 0 && pair.q.level == 0 {
				finer = append(finer, pair)
				continue
			}
			deeper = true
			eachChildPair(p, q, pair, func(child nodePair) { finer = append(finer, child) })
		}
		pairs = finer
		if !deeper {
			break
		}
	}
	return pairs
}

// eachChildPair divides the higher of two boxes and calls visit for each of its
// children that meets the other. One of them must not be of level 0.
func eachChildPair(p, q *boxTree, pair nodePair, visit func(nodePair)) {
	if pair.p.level >= pair.q.level {
		box := q.box(pair.q)
		lo, hi := p.children(pair.p)
		for i := lo; i < hi; i++ {
			if child := (node{pair.p.level - 1, i}); p.box(child).meets(*box) {
				visit(nodePair{child, pair.q})
			}
		}
		return
	}
	box := p.box(pair.p)
	lo, hi := q.children(pair.q)
	for i := lo; i < hi; i++ {
		if child := (node{pair.q.level - 1, i}); q.box(child).meets(*box) {
			visit(nodePair{pair.p, child})
		}
	}
}

// meetingFaces calls visit for every two triangles below a pair of nodes whose
// boxes meet.
func meetingFaces(p, q *boxTree, pair nodePair, visit func(f, g int32)) {
	if pair.p.level > 0 || pair.q.level > 0 {
		eachChildPair(p, q, pair, func(child nodePair) { meetingFaces(p, q, child, visit) })
		return
	}
	lo, hi := q.children(pair.q)
	var boxes [fanout]Bounds
	for j := lo; j < hi; j++ {
		boxes[j-lo] = q.faceBox(q.order[j])
	}
	low, high := p.children(pair.p)
	for i := low; i < high; i++ {
		f := p.order[i]
		box := p.faceBox(f)
		for j := lo; j < hi; j++ {
			if box.meets(boxes[j-lo]) {
				visit(f, q.order[j])
			}
		}
	}
}
