package solid

import (
	"context"
	"slices"
)

// Half-edges without a twin.
const (
	openHalf    int32 = -1 // the only one of its edge, or the first of a crowd
	crowdedHalf int32 = -2 // one of more than two, or of two that run the same way
)

// twins returns for every half-edge the other of its edge. Unlike [Mesh.Opposites]
// it takes open meshes, and several workers.
func (k Kernel) twins(ctx context.Context, m Mesh) ([]int32, error) {
	// Half-edges are dealt into a bucket a lower vertex, each bucket sorted by the
	// higher one.
	start := make([]int32, len(m.Vertices)+1)
	for _, t := range m.Triangles {
		for i := range 3 {
			start[min(t[i], t[(i+1)%3])+1]++
		}
	}
	for i := 1; i < len(start); i++ {
		start[i] += start[i-1]
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	fill := slices.Clone(start)
	keys := make([]uint64, 3*len(m.Triangles))
	for i, t := range m.Triangles {
		for j := range 3 {
			lo, hi := t[j], t[(j+1)%3]
			if lo > hi {
				lo, hi = hi, lo
			}
			keys[fill[lo]] = uint64(hi)<<32 | uint64(3*i+j)
			fill[lo]++
		}
	}
	out := make([]int32, len(keys))
	err := k.each(ctx, "edges", len(m.Vertices), treeGrain, func(lo, hi int) {
		for v := lo; v < hi; v++ {
			pairHalves(m, keys[start[v]:start[v+1]], out)
		}
	})
	return out, err
}

// pairHalves pairs the half-edges of a bucket. Every half-edge is in one bucket.
func pairHalves(m Mesh, bucket []uint64, out []int32) {
	slices.Sort(bucket)
	for i := 0; i < len(bucket); {
		j := i + 1
		for j < len(bucket) && bucket[j]>>32 == bucket[i]>>32 {
			j++
		}
		g, h := int32(bucket[i]), int32(bucket[j-1])
		if j-i == 2 && m.tail(g) == m.head(h) && m.tail(g) != m.head(g) {
			out[g], out[h] = h, g
		} else {
			for _, key := range bucket[i:j] {
				out[int32(key)] = crowdedHalf
			}
			out[g] = openHalf
		}
		i = j
	}
}

// sceneEdges finds the edges of the solids that count.
func (k Kernel) sceneEdges(ctx context.Context, s *scene) error {
	var err error
	if s.twin, err = k.twins(ctx, s.mesh); err != nil {
		return err
	}
	runs := (len(s.twin) + treeGrain - 1) / treeGrain
	found := make([][]sceneEdge, runs)
	err = k.each(ctx, "edges", len(s.twin), treeGrain, func(lo, hi int) {
		var out []sceneEdge
		for h := int32(lo); h < int32(hi); h++ {
			if e, counts := s.edge(h); counts {
				out = append(out, e)
			}
		}
		found[lo/treeGrain] = out
	})
	s.edges = slices.Concat(found...)
	return err
}

// edge returns the edge of a half-edge, and whether it counts. Of a silhouette the
// half-edge of the face that looks at the eye is taken, so that they follow each
// other with the solid on their left; else the lower one.
func (s *scene) edge(h int32) (sceneEdge, bool) {
	twin := s.twin[h]
	from, to := s.mesh.Vertices[s.mesh.tail(h)], s.mesh.Vertices[s.mesh.head(h)]
	e := sceneEdge{from: from, to: to, faces: [2]int32{h / 3, twin / 3}, other: -1}
	switch {
	case twin == crowdedHalf || from == to:
		return e, false
	case twin == openHalf:
		e.kind, e.faces[1] = Boundary, -1
		e.solid = s.solidOf(h / 3)
		return e, true
	}
	f, g := s.surface(h), s.surface(twin)
	if f < 0 || g < 0 || f == g {
		return e, false
	}
	e.solid = s.solidOf(h / 3)
	switch {
	case s.isCut(f) != s.isCut(g):
		e.kind = SectionEdge
	case s.looksAtEye(f) != s.looksAtEye(g):
		e.kind = Silhouette
		return e, s.looksAtEye(f)
	case s.normal[f].Dot(s.normal[g]) <= s.crease:
		e.kind = Crease
	default:
		return e, false
	}
	return e, h < twin
}

// looksAtEye reports whether a triangle is seen from in front; edge-on is not.
func (s *scene) looksAtEye(triangle int32) bool { return s.facing[triangle] > 0 }

// surface returns the triangle that has a normal on a half-edge's side. Behind a
// triangle too thin for one that is what lies beyond its longest edge, as if the
// triangle weren't there; along that edge itself there is nothing (−1), for the
// two others stand for it.
func (s *scene) surface(h int32) int32 {
	t := h / 3
	if s.normal[t] != (Vec{}) {
		return t
	}
	if s.longest(t, -1) == h {
		return -1
	}
	for range slimmest {
		h = s.twin[s.longest(t, h)]
		if h < 0 {
			return -1
		}
		t = h / 3
		if s.normal[t] != (Vec{}) {
			return t
		}
	}
	return -1
}

// slimmest is how many triangles without a normal in a row are gone across; what
// makes triangles makes them one by one, or a fan of a few.
const slimmest = 16

// longest returns the longest half-edge of a triangle, one left out.
func (s *scene) longest(t, without int32) int32 {
	best, length := int32(-1), -1.0
	for h := 3 * t; h < 3*t+3; h++ {
		d := s.mesh.Vertices[s.mesh.head(h)].Sub(s.mesh.Vertices[s.mesh.tail(h)])
		if l := d.Dot(d); h != without && l > length {
			best, length = h, l
		}
	}
	return best
}
