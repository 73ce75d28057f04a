package solid

import (
	"math"
	"slices"
)

// Section is [Section] of the tree's mesh, to the last bit, looking only at the
// triangles near the plane. The mesh need only be closed there; where it isn't
// the error is a [*NotSolidError].
func (t *Tree) Section(p Plane) (Slice, error) {
	if err := p.check(); err != nil {
		return Slice{}, err
	}
	m, side := t.near(p)
	edges, faults := m.crossedEdges(func(v int32) bool { return side[v] < 0 })
	if len(faults) > 0 {
		return Slice{}, &NotSolidError{Faults: faults}
	}
	return m.slice(p, edges, side), nil
}

// planeRounding bounds the rounding of a plane's side, in units of the sum of the
// magnitudes of its four terms: three products and three sums, and as much again
// for the box's own; u = 2⁻⁵³.
const planeRounding = 16 * 0x1p-53

// near returns the triangles that may pass through a plane, in their order, over
// the vertices they use, in theirs, and the sides of these.
func (t *Tree) near(p Plane) (m Mesh, side []float64) {
	if len(t.nodes) == 0 {
		return Mesh{}, nil
	}
	var found []int32
	stack := make([]int32, 1, treeDepth)
	for len(stack) > 0 {
		node := &t.nodes[stack[len(stack)-1]]
		stack = stack[:len(stack)-1]
		for k := range 2 {
			switch {
			case !node.box[k].straddles(p):
			case node.count[k] == 0:
				stack = append(stack, node.at[k])
			default:
				found = append(found, t.order[node.at[k]:node.at[k]+node.count[k]]...)
			}
		}
	}
	slices.Sort(found)
	var used []int32
	for _, f := range found {
		used = append(used, t.mesh.Triangles[f][:]...)
	}
	slices.Sort(used)
	used = slices.Compact(used)
	for _, v := range used {
		m.Vertices = append(m.Vertices, t.mesh.Vertices[v])
		side = append(side, p.Side(t.mesh.Vertices[v]))
	}
	for _, f := range found {
		var tri [3]int32
		for k, v := range t.mesh.Triangles[f] {
			i, _ := slices.BinarySearch(used, v)
			tri[k] = int32(i)
		}
		m.Triangles = append(m.Triangles, tri)
	}
	return m, side
}

// straddles reports whether a box may have points on both sides of a plane, or on
// it.
func (b *treeBox) straddles(p Plane) bool {
	low, high, size := -p.Offset, -p.Offset, math.Abs(p.Offset)
	for k, n := range p.Normal {
		x, y := float64(n*b[0][k]), float64(n*b[1][k])
		low += min(x, y)
		high += max(x, y)
		size += max(math.Abs(x), math.Abs(y))
	}
	slack := planeRounding * size
	return low <= slack && high >= -slack
}

// crossedEdges numbers the edges that pass from below to above, for each of their
// half-edges, and returns those that don't have one triangle on each side.
func (m Mesh) crossedEdges(below func(v int32) bool) (edges []int32, faults []Fault) {
	type half struct {
		lo, hi, h int32
	}
	var halves []half
	for h := range int32(3 * len(m.Triangles)) {
		if a, b := m.tail(h), m.head(h); below(a) != below(b) {
			halves = append(halves, half{min(a, b), max(a, b), h})
		}
	}
	slices.SortFunc(halves, func(p, q half) int {
		switch {
		case p.lo != q.lo:
			return int(p.lo - q.lo)
		case p.hi != q.hi:
			return int(p.hi - q.hi)
		default:
			return int(p.h - q.h)
		}
	})
	edges = make([]int32, 3*len(m.Triangles))
	number := int32(0)
	var group []int32
	for i := 0; i < len(halves); number++ {
		e := halves[i]
		group = group[:0]
		for ; i < len(halves) && halves[i].lo == e.lo && halves[i].hi == e.hi; i++ {
			group = append(group, halves[i].h)
			edges[halves[i].h] = number
		}
		if f, bad := m.edgeFault(e.lo, e.hi, group); bad {
			faults = append(faults, f)
		}
	}
	return edges, faults
}
