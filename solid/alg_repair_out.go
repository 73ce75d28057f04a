package solid

import (
	"cmp"
	"math"
	"slices"
)

// repairShell is one component of a closed mesh.
type repairShell struct {
	triangles []int32
	bounds    Bounds
	volume    float64 // signed, six times
	at        Vec     // one of its vertices, to say where it is
	parent    int32   // the innermost shell around it; −1: none
	in        []int32 // all shells around it
	turn      bool
}

// shells divides the mesh into its components.
func (r *repair) shells() []repairShell {
	label, n := r.m.components()
	out := make([]repairShell, n)
	volume := make([]sum, n)
	origin := r.m.Bounds().Min
	for i, t := range r.m.Triangles {
		s := &out[label[i]]
		a, b, c := r.m.corners(t)
		if len(s.triangles) == 0 {
			s.at, s.bounds, s.parent = a, Bounds{a, a}, -1
		}
		s.triangles = append(s.triangles, int32(i))
		volume[label[i]].add(a.Sub(origin).Dot(b.Sub(origin).Cross(c.Sub(origin))))
		for _, p := range [3]Vec{a, b, c} {
			for k, x := range p {
				s.bounds.Min[k], s.bounds.Max[k] = min(s.bounds.Min[k], x), max(s.bounds.Max[k], x)
			}
		}
	}
	for l := range out {
		out[l].volume = volume[l].value()
	}
	return out
}

// turnOut is step 7. A shell that none is around is turned outwards. One inside
// another keeps its side relative to the smallest around it, so that what was a
// cavity when all was inside out is one still; but it can't be a cavity of
// nothing.
func (r *repair) turnOut() error {
	shells := r.shells()
	if !slices.ContainsFunc(shells, func(s repairShell) bool { return s.volume < 0 }) {
		return nil
	}
	if err := r.nest(shells); err != nil {
		return err
	}
	order := make([]int32, len(shells)) // the larger first, so parents before what they hold
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortStableFunc(order, func(a, b int32) int {
		return cmp.Compare(math.Abs(shells[b].volume), math.Abs(shells[a].volume))
	})
	for _, i := range order {
		s := &shells[i]
		if s.volume == 0 {
			continue // no side is out; dropped in the next step
		}
		side := func(s *repairShell) bool { return s.volume > 0 != s.turn }
		if s.parent < 0 {
			s.turn = s.volume < 0
		} else {
			s.turn = shells[s.parent].turn
		}
		if !side(s) {
			depth := 0
			for _, p := range s.in {
				if side(&shells[p]) {
					depth++
				} else {
					depth--
				}
			}
			s.turn = s.turn != (depth < 1)
		}
	}
	for _, s := range shells {
		if !s.turn {
			continue
		}
		r.log.add(ShellFlipped, s.at, s.bounds.Size().Length())
		for _, t := range s.triangles {
			tri := &r.m.Triangles[t]
			tri[1], tri[2] = tri[2], tri[1]
		}
	}
	return nil
}

// nest finds for every shell those around it: with more volume, larger bounds,
// and winding round a vertex that is not on them.
func (r *repair) nest(shells []repairShell) error {
	for p := range shells {
		outer := &shells[p]
		var within []int
		for i := range shells {
			if math.Abs(outer.volume) > math.Abs(shells[i].volume) && outer.bounds.holds(shells[i].bounds) {
				within = append(within, i)
			}
		}
		if len(within) == 0 {
			continue
		}
		tree, err := r.k.Tree(r.ctx, r.only(outer.triangles))
		if err != nil {
			return err
		}
		err = r.k.each(r.ctx, "repair: nest", len(within), 16, func(lo, hi int) {
			for _, i := range within[lo:hi] {
				if s := &shells[i]; r.windsRound(tree, s) {
					s.in = append(s.in, int32(p))
				}
			}
		})
		if err != nil {
			return err
		}
	}
	for i := range shells {
		shells[i].parent = parentOf(shells, int32(i))
	}
	return nil
}

// parentOf returns the innermost of the shells around one. Where bodies overlap
// there may be several, none inside another; then it is the last before it in the
// file, since the shells of a body are written together.
func parentOf(shells []repairShell, i int32) int32 {
	parent := int32(-1)
	for _, p := range shells[i].in {
		holdsAnother := slices.ContainsFunc(shells[i].in, func(q int32) bool { return slices.Contains(shells[q].in, p) })
		if !holdsAnother && (parent < 0 || p < i) {
			parent = p
		}
	}
	return parent
}

// windsRound reports whether the shell of the tree winds round another.
func (r *repair) windsRound(tree *Tree, s *repairShell) bool {
	for _, t := range s.triangles {
		for _, v := range r.m.Triangles[t] {
			if winding, on := tree.winding(&r.m.Vertices[v]); !on {
				return winding != 0
			}
		}
	}
	return false
}

// only returns some of the triangles as a mesh of their own.
func (r *repair) only(triangles []int32) Mesh {
	index := map[int32]int32{} // only looked up
	out := Mesh{Triangles: make([][3]int32, len(triangles))}
	for i, t := range triangles {
		for k, v := range r.m.Triangles[t] {
			at, seen := index[v]
			if !seen {
				at = int32(len(out.Vertices))
				index[v] = at
				out.Vertices = append(out.Vertices, r.m.Vertices[v])
			}
			out.Triangles[i][k] = at
		}
	}
	return out
}

func (b Bounds) holds(c Bounds) bool {
	for k := range 3 {
		if c.Min[k] < b.Min[k] || c.Max[k] > b.Max[k] {
			return false
		}
	}
	return true
}
