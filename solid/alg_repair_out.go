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
	at        Vec     // one of its vertices
	parent    int32   // the smallest shell around it; −1: none
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
// and winding round one of its vertices.
func (r *repair) nest(shells []repairShell) error {
	return r.k.each(r.ctx, "repair: nest", len(shells), 1, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			s := &shells[i]
			for p := range shells {
				outer := &shells[p]
				if p == i || outer.volume == 0 || math.Abs(outer.volume) <= math.Abs(s.volume) ||
					!outer.bounds.holds(s.bounds) || r.winding(outer.triangles, s.at) == 0 {
					continue
				}
				s.in = append(s.in, int32(p))
				if s.parent < 0 || math.Abs(outer.volume) < math.Abs(shells[s.parent].volume) {
					s.parent = int32(p)
				}
			}
		}
	})
}

func (b Bounds) holds(c Bounds) bool {
	for k := range 3 {
		if c.Min[k] < b.Min[k] || c.Max[k] > b.Max[k] {
			return false
		}
	}
	return true
}

// winding returns how often the triangles wind round p; see windingWithout.
func (r *repair) winding(triangles []int32, p Vec) int {
	var angle sum
	for _, t := range triangles {
		a, b, c := r.m.corners(r.m.Triangles[t])
		a, b, c = a.Sub(p), b.Sub(p), c.Sub(p)
		la, lb, lc := a.Length(), b.Length(), c.Length()
		num := a.Dot(b.Cross(c))
		den := float64(float64(la*lb)*lc) + float64(a.Dot(b)*lc) + float64(b.Dot(c)*la) + float64(c.Dot(a)*lb)
		angle.add(2 * math.Atan2(num, den))
	}
	return int(math.Round(angle.value() / (4 * math.Pi)))
}
