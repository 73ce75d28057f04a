package solid

import (
	"cmp"
	"slices"
)

// repairRounds bounds how often dropping flat triangles and dividing edges take
// turns. A flat triangle dropped leaves a vertex on an edge, and an edge divided
// within the merging distance may leave a flat triangle; two or three rounds do
// on real files.
const repairRounds = 16

// heal is the second half of step 2: it drops triangles without area and those
// that lie on another, and divides open edges at the vertices on them, until
// there is nothing of either.
//
//	   d                   d
//	  / \                 /|\
//	 /   \               / | \
//	a --- c      →      a  |  c      The flat triangle a b c is dropped, and
//	a  b  c             a  b  c      a c d divided at b.
func (r *repair) heal() error {
	for range repairRounds {
		dropped := r.dropFlat()
		dropped = r.dropDuplicates() || dropped
		divided := r.divideEdges()
		if !dropped && !divided {
			return nil
		}
		if err := r.ctx.Err(); err != nil {
			return err
		}
	}
	r.dropFlat()
	return nil
}

// dropFlat drops triangles whose corners are two or one vertex, or lie exactly
// on a line.
func (r *repair) dropFlat() bool {
	before := len(r.m.Triangles)
	r.keep(func(i int) bool {
		t := r.m.Triangles[i]
		a, b, c := r.m.corners(t)
		if !Collinear(a, b, c) {
			return true
		}
		longest := max(b.Sub(a).Length(), c.Sub(b).Length(), a.Sub(c).Length())
		r.log.add(TriangleDegenerate, a, longest)
		return false
	})
	return len(r.m.Triangles) < before
}

// dropDuplicates leaves at most one triangle over the same three vertices: none
// where as many lie one way round as the other, as the walls between two blocks
// side by side do, which bound nothing.
func (r *repair) dropDuplicates() bool {
	type key struct {
		corners  [3]int32
		triangle int32
		even     bool // anticlockwise is an even permutation of the sorted corners
	}
	keys := make([]key, len(r.m.Triangles))
	for i, t := range r.m.Triangles {
		s := t
		slices.Sort(s[:])
		even := t == s || t == [3]int32{s[1], s[2], s[0]} || t == [3]int32{s[2], s[0], s[1]}
		keys[i] = key{s, int32(i), even}
	}
	slices.SortFunc(keys, func(a, b key) int {
		if c := slices.Compare(a.corners[:], b.corners[:]); c != 0 {
			return c
		}
		return cmp.Compare(a.triangle, b.triangle)
	})
	gone := make([]bool, len(keys))
	any := false
	for lo := 0; lo < len(keys); {
		hi, net := lo, 0
		for ; hi < len(keys) && keys[hi].corners == keys[lo].corners; hi++ {
			if keys[hi].even {
				net++
			} else {
				net--
			}
		}
		run := keys[lo:hi]
		lo = hi
		if len(run) == 1 {
			continue
		}
		any = true
		stays := slices.IndexFunc(run, func(k key) bool { return net > 0 && k.even || net < 0 && !k.even })
		for i, k := range run {
			gone[k.triangle] = i != stays
		}
	}
	if !any {
		return false
	}
	for i, t := range r.m.Triangles {
		if gone[i] {
			r.log.add(TriangleDuplicate, r.m.Vertices[t[0]], 0)
		}
	}
	r.keep(func(i int) bool { return !gone[i] })
	return true
}
