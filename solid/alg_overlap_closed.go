package solid

import (
	"context"
	"slices"
)

// closedTrees builds the trees of two solids, refusing what isn't closed.
func (k Kernel) closedTrees(ctx context.Context, a, b Mesh) (trees [2]*Tree, err error) {
	for i, m := range [2]Mesh{a, b} {
		if trees[i], err = k.Tree(ctx, m); err != nil {
			return trees, err
		}
		faults, err := k.unbalanced(ctx, m)
		if err != nil {
			return trees, err
		}
		if len(faults) > 0 {
			return trees, &NotSolidError{Faults: faults}
		}
	}
	return trees, nil
}

// unbalanced returns the edges along which not as many triangles run one way as
// the other. Without them the surface has no rim, and winding has a meaning; an
// edge of four triangles doesn't matter. It is [Mesh.eachEdge] for several
// workers.
func (k Kernel) unbalanced(ctx context.Context, m Mesh) ([]Fault, error) {
	start := make([]int32, len(m.Vertices)+1)
	for _, t := range m.Triangles {
		for c := range 3 {
			start[min(t[c], t[(c+1)%3])+1]++
		}
	}
	for i := 1; i < len(start); i++ {
		start[i] += start[i-1]
	}
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	fill := slices.Clone(start)
	keys := make([]uint64, 3*len(m.Triangles))
	for i, t := range m.Triangles {
		for c := range 3 {
			lo, hi := t[c], t[(c+1)%3]
			if lo > hi {
				lo, hi = hi, lo
			}
			keys[fill[lo]] = uint64(hi)<<32 | uint64(3*i+c)
			fill[lo]++
		}
	}
	found := make([][]Fault, (len(m.Vertices)+treeGrain-1)/treeGrain)
	err := k.each(ctx, "closed", len(m.Vertices), treeGrain, func(lo, hi int) {
		for v := lo; v < hi; v++ {
			bucket := keys[start[v]:start[v+1]]
			slices.Sort(bucket)
			for i := 0; i < len(bucket); {
				head, n := bucket[i]>>32, 0
				first := i
				for ; i < len(bucket) && bucket[i]>>32 == head; i++ {
					switch h := int32(bucket[i]); {
					case m.tail(h) == m.head(h): // a triangle that names a vertex twice
					case m.tail(h) == int32(v):
						n++
					default:
						n--
					}
				}
				if n != 0 {
					halves := make([]int32, 0, i-first)
					for _, key := range bucket[first:i] {
						halves = append(halves, int32(key))
					}
					f, _ := m.edgeFault(int32(v), int32(head), halves)
					found[lo/treeGrain] = append(found[lo/treeGrain], f)
				}
			}
		}
	})
	return slices.Concat(found...), err
}
