package solid

import (
	"context"
	"slices"
)

// sceneCrossings adds the lines in which the surfaces of two solids pass through
// each other.
func (k Kernel) sceneCrossings(ctx context.Context, s *scene) error {
	n := len(s.first) - 1
	trees := make([]*Tree, n)
	boxes := make([]Bounds, n)
	for i := range n {
		boxes[i] = Mesh{s.mesh.Vertices, s.mesh.Triangles[s.first[i]:s.first[i+1]]}.Bounds()
	}
	tree := func(i int) (*Tree, error) {
		if trees[i] == nil {
			t, err := k.Tree(ctx, Mesh{s.mesh.Vertices, s.mesh.Triangles[s.first[i]:s.first[i+1]]})
			if err != nil {
				return nil, err
			}
			trees[i] = t
		}
		return trees[i], nil
	}
	for i := range n {
		for j := i + 1; j < n; j++ {
			if s.first[i] == s.first[i+1] || s.first[j] == s.first[j+1] || !boxes[i].meets(boxes[j]) {
				continue
			}
			a, err := tree(i)
			if err != nil {
				return err
			}
			b, err := tree(j)
			if err != nil {
				return err
			}
			if err := k.pairCrossings(ctx, s, a, b, int32(i), int32(j)); err != nil {
				return err
			}
		}
	}
	return nil
}

func (k Kernel) pairCrossings(ctx context.Context, s *scene, a, b *Tree, i, j int32) error {
	p := newTreePairs(a, b)
	found := make([][]sceneEdge, len(p.tasks))
	err := k.each(ctx, "intersections", len(p.tasks), 1, func(lo, hi int) {
		for t := lo; t < hi; t++ {
			p.walk(ctx, p.tasks[t], func(f, g int32) {
				f, g = f+s.first[i], g+s.first[j]
				if from, to, through := s.crossing(f, g); through {
					found[t] = append(found[t], sceneEdge{
						from: from, to: to, faces: [2]int32{f, g}, solid: i, other: j, kind: Intersection,
					})
				}
			})
		}
	})
	if err != nil {
		return err
	}
	// In the order of the triangles, which the tasks don't keep.
	all := slices.Concat(found...)
	slices.SortFunc(all, func(x, y sceneEdge) int {
		if x.faces[0] != y.faces[0] {
			return int(x.faces[0]) - int(y.faces[0])
		}
		return int(x.faces[1]) - int(y.faces[1])
	})
	s.edges = append(s.edges, all...)
	return nil
}

// crossing returns the segment in which two triangles pass through each other. A
// corner that equals a point of the other's plane counts as in front of it: always
// the same way, so that the line of two solids that meet along an edge is found
// once, and none between faces in one plane.
func (s *scene) crossing(f, g int32) (from, to Vec, through bool) {
	nf, ng := s.normal[f], s.normal[g]
	along := nf.Cross(ng)
	if along == (Vec{}) {
		return from, to, false
	}
	pf, okf := s.through(f, g)
	if !okf {
		return from, to, false
	}
	pg, okg := s.through(g, f)
	if !okg {
		return from, to, false
	}
	// Both segments lie on the line that the planes share: what they have in
	// common is between the two middle ones of the four ends.
	if pf[0].Dot(along) > pf[1].Dot(along) {
		pf[0], pf[1] = pf[1], pf[0]
	}
	if pg[0].Dot(along) > pg[1].Dot(along) {
		pg[0], pg[1] = pg[1], pg[0]
	}
	from, to = pf[0], pf[1]
	if pg[0].Dot(along) > from.Dot(along) {
		from = pg[0]
	}
	if pg[1].Dot(along) < to.Dot(along) {
		to = pg[1]
	}
	if d := to.Sub(from); !(d.Dot(along) > 0) || d.Length() <= s.near {
		return from, to, false
	}
	return from, to, !s.alongEdge(f, from, to) && !s.alongEdge(g, from, to)
}

// alongEdge reports whether a segment runs along an edge of a triangle that is
// drawn anyway: solids that touch in an edge would have it twice.
func (s *scene) alongEdge(triangle int32, from, to Vec) bool {
	for h := 3 * triangle; h < 3*triangle+3; h++ {
		p := s.mesh.Vertices[s.mesh.tail(h)]
		d := s.mesh.Vertices[s.mesh.head(h)].Sub(p).Unit()
		if d.Cross(from.Sub(p)).Length() > s.near || d.Cross(to.Sub(p)).Length() > s.near {
			continue
		}
		if _, counts := s.edge(h); counts {
			return true
		}
		if twin := s.twin[h]; twin >= 0 {
			if _, counts := s.edge(twin); counts {
				return true
			}
		}
	}
	return false
}

// through returns where the edges of a triangle pass the plane of another. The
// place is a function of the edge and the plane alone, so that neighbours get the
// same bits.
func (s *scene) through(triangle, plane int32) (at [2]Vec, ok bool) {
	n, origin := s.normal[plane], s.mesh.Vertices[s.mesh.Triangles[plane][0]]
	var side [3]float64
	var above [3]bool
	t := s.mesh.Triangles[triangle]
	for i, v := range t {
		side[i] = n.Dot(s.mesh.Vertices[v].Sub(origin))
		above[i] = side[i] >= -s.near
	}
	if above[0] == above[1] && above[1] == above[2] || n == (Vec{}) {
		return at, false
	}
	found := 0
	for i := range 3 {
		j := (i + 1) % 3
		if above[i] == above[j] {
			continue
		}
		lo, hi := i, j
		if t[lo] > t[hi] {
			lo, hi = hi, lo
		}
		p, q := s.mesh.Vertices[t[lo]], s.mesh.Vertices[t[hi]]
		// A corner in front by less than nothing stands on the plane.
		w := max(0, min(1, side[lo]/(side[lo]-side[hi])))
		at[found] = p.Add(q.Sub(p).Scale(w))
		found++
	}
	return at, true
}
