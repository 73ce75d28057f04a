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
// that lie on another and, if asked, divides open edges at the vertices on them,
// until there is nothing of either.
//
//	   d                   d
//	  / \                 /|\
//	 /   \               / | \
//	a --- c      →      a  |  c      The flat triangle a b c is dropped, and
//	a  b  c             a  b  c      a c d divided at b.
func (r *repair) heal(divide bool) error {
	for range repairRounds {
		dropped := r.dropFlat()
		if dropped { // flat triangles may have kept apart what is open now
			r.weldEqual()
		}
		for r.dropDuplicates() {
			dropped = true
		}
		divided := divide && r.divideEdges()
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

// dropDuplicates leaves at most one triangle over the same three vertices, one
// that lies the way most of them do. Where as many lie one way round as the other
// it may be the wall between two blocks side by side, which bounds nothing: then
// an even number of other triangles meets it at most of its edges, and none is
// left. These wait until there are none of the others, which would be counted.
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
	any, waiting := false, false
	var crowd []int32 // of a half-edge: the triangles at its edge; counted when first asked for
	pass := func(balanced bool) {
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
			if len(run) == 1 || (net == 0) != balanced {
				waiting = waiting || len(run) > 1
				continue
			}
			any = true
			stays := slices.IndexFunc(run, func(k key) bool { return net >= 0 && k.even || net < 0 && !k.even })
			if balanced && r.evenAround(run[0].triangle, len(run), &crowd) {
				stays = -1
			}
			for i, k := range run {
				gone[k.triangle] = i != stays
			}
		}
	}
	if pass(false); !any && waiting {
		pass(true)
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

// evenAround reports whether most of the edges of triangle t that any triangle
// meets besides its n over the same corners are met by an even number of them.
func (r *repair) evenAround(t int32, n int, crowd *[]int32) bool {
	if *crowd == nil {
		*crowd = make([]int32, 3*len(r.m.Triangles))
		r.m.eachEdge(func(_, _ int32, halves []int32) {
			for _, h := range halves {
				(*crowd)[h] = int32(len(halves))
			}
		})
	}
	even, odd := 0, 0
	for h := 3 * t; h < 3*t+3; h++ {
		switch others := int((*crowd)[h]) - n; {
		case others%2 == 1:
			odd++
		case others > 0:
			even++
		}
	}
	return even > odd
}
