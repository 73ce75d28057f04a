package solid

import (
	"context"
	"math"
)

// treeSlab is a plane that a part of the surface lies above: normal·v ≥ low for
// every corner v. The box of a bent part reaches far below it; the slab only as
// far as the part is bent. In a round body, where the whole surface is as near to
// the middle as its nearest point, it is what tells near from in.
type treeSlab struct {
	normal Vec // the mean of the part's normals, of length 1
	low    float64
}

// clear reports whether a ball lies below the slab.
func (s *treeSlab) clear(b *touchingBall) bool {
	return s.normal.Dot(b.centre)+b.radius*(1-ballRounding) <= s.low
}

// slabMost is the most triangles of a part that gets a slab: of a larger one the
// normals have little in common.
const slabMost = 1 << 12

// treeSlabs returns a slab for every child, child k of node i at 2·i + k. A part
// without one has a slab that nothing lies below.
func (k Kernel) treeSlabs(ctx context.Context, t *Tree) ([]treeSlab, error) {
	// A node's children come after it, so from the last to the first each finds
	// theirs ready: the run of the order it covers, and the sum of the normals.
	slabs := make([]treeSlab, 2*len(t.nodes))
	runs := make([][2]int32, len(slabs))
	for i := len(t.nodes) - 1; i >= 0; i-- {
		for c := range 2 {
			at, count := t.nodes[i].at[c], t.nodes[i].count[c]
			child := 2*i + c
			if count == 0 {
				runs[child] = [2]int32{runs[2*at][0], runs[2*at+1][1]}
				slabs[child].normal = slabs[2*at].normal.Add(slabs[2*at+1].normal)
				continue
			}
			runs[child] = [2]int32{at, at + count}
			for _, f := range t.faces[at : at+count] {
				p, q, r := t.mesh.corners(f)
				slabs[child].normal = slabs[child].normal.Add(q.Sub(p).Cross(r.Sub(p)))
			}
		}
	}
	err := k.each(ctx, "thickness", len(slabs), thicknessGrain, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			s, run := &slabs[i], runs[i]
			s.normal, s.low = s.normal.Unit(), math.Inf(1)
			if run[1]-run[0] > slabMost {
				s.low = math.Inf(-1)
				continue
			}
			for _, f := range t.faces[run[0]:run[1]] {
				for _, v := range f {
					s.low = min(s.low, s.normal.Dot(t.mesh.Vertices[v]))
				}
			}
		}
	})
	return slabs, err
}
