package solid

import (
	"context"
	"math"
)

// How the wall is kept. A corner of the surface lies at a depth that was
// measured, not guessed from the ends of its edge, so every corner is deep enough.
// Between the corners of a triangle the depth can be less: over a round bore the
// triangle is a chord. So the distance between the triangle as a whole and the
// outside is measured as well, and where it is less than the wall, its corners
// are asked to lie deeper by what is missing.
//
// That ends: of a triangle with corners vᵢ at a distance of at least D from a
// point s, the point x = Σλᵢvᵢ has |x−s|² = Σλᵢ|vᵢ−s|² − Σλᵢ|vᵢ−x|² ≥ D² − r², r
// the radius of the smallest circle round it (Lagrange's identity for the moment
// about x). The edges of a tetrahedron are at most a cell c long, so r² ≤ c²/3
// (H. Jung, 1901), and with D² = wall² + c²/3 nothing is missing. If the edge of
// the lattice ends before that depth, its end is taken out of the cavity; points
// deep enough never are.

// shellTries is how often a corner is asked for what is missing before it is
// asked for what is surely enough.
const shellTries = 4

// findWall finds the surface of the cavity.
func (s *shell) findWall(ctx context.Context) error {
	if err := s.extract(ctx); err != nil {
		return err
	}
	for {
		lost, err := s.placeCorners(ctx)
		if err != nil {
			return err
		}
		if lost {
			if err := s.extract(ctx); err != nil {
				return err
			}
			continue
		}
		if err := s.measure(ctx); err != nil {
			return err
		}
		if !s.raise() {
			return nil
		}
	}
}

// placeCorners places all corners that are not as deep as asked, and takes the
// points out of the cavity where that can't be; then lost is true.
func (s *shell) placeCorners(ctx context.Context) (lost bool, err error) {
	var todo []int32
	for v := range s.target {
		s.target[v] = max(s.target[v], s.least)
		if s.depth[v] < s.target[v] {
			todo = append(todo, int32(v))
		}
	}
	failed := make([]bool, len(todo))
	err = s.each(ctx, "corners", len(todo), shellGrain/4, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			failed[i] = !s.placeCorner(todo[i])
		}
	})
	for i, f := range failed {
		s.moved[todo[i]] = true
		if f {
			s.points.out[s.ends[todo[i]][0]] = true
			lost = true
		}
	}
	return lost, err
}

// shellSteps bounds the search along an edge; the depth is almost straight there
// and two or three are common.
const shellSteps = 16

// placeCorner finds a place on the corner's edge that is as deep as asked and,
// where the depth can be had, no deeper than shellFine cells more. It is false
// where there is none that can be told.
func (s *shell) placeCorner(v int32) bool {
	a, b := s.ends[v][0], s.ends[v][1]
	p, q := s.where(s.points.keys[a]), s.where(s.points.keys[b])
	along := q.Sub(p)
	length, fine := along.Length(), float64(shellFine*s.cell)
	// Depths count from what is asked plus half of what is allowed, so that where
	// the depth is straight the first try is good.
	zero := s.target[v] + fine/2
	lo, hi := 0.0, 1.0
	atLo, atHi := s.points.depth[a]-zero, s.points.depth[b]-zero
	placed := false
	try := func(t float64) float64 {
		x := p.Add(along.Scale(t))
		d := s.depthAt(x, min(s.points.depth[a]+float64(t*length), s.points.depth[b]+float64((1-t)*length)))
		if d >= s.target[v] {
			s.place[v], s.depth[v], placed = x, d, true
		}
		return d - zero
	}
	if atHi > -fine/2 {
		// The far end is deep enough, but was taken out of the cavity.
		hi = 1 - shellEnd
		if atHi = try(hi); placed {
			return true
		}
	}
	if atLo < -fine/2 {
		return false
	}
	// The rule of false position, halving the weight of an end that stays (the
	// Illinois variant: M. Dowell and P. Jarratt, BIT 11 (1971) 168–174).
	side := 0
	for range shellSteps {
		t := lo + (hi-lo)*min(max(atLo/(atLo-atHi), shellEnd), 1-shellEnd)
		t = min(max(t, shellEnd), 1-shellEnd)
		d := try(t)
		switch {
		case math.Abs(d) <= fine/2:
			return true
		case d > 0:
			if side > 0 {
				atHi /= 2
			}
			lo, atLo, side = t, d, 1
		default:
			if side < 0 {
				atLo /= 2
			}
			hi, atHi, side = t, d, -1
		}
	}
	if !placed {
		try(shellEnd)
	}
	return placed
}

// measure finds the distance to the outside of every face with a corner that
// moved, and of every new one.
func (s *shell) measure(ctx context.Context) error {
	var todo []int32
	for i, f := range s.faces {
		again := s.near[i] < 0
		for _, v := range f {
			again = again || v >= 0 && s.moved[v]
		}
		if again {
			todo = append(todo, int32(i))
		}
	}
	err := s.each(ctx, "walls", len(todo), shellGrain/4, func(lo, hi int) {
		for _, i := range todo[lo:hi] {
			least := math.Inf(1)
			for _, t := range s.split(s.faces[i]) {
				within := min(s.depth[t[0]], s.depth[t[1]], s.depth[t[2]])
				least = min(least, s.tree.shellNear([3]Vec{s.place[t[0]], s.place[t[1]], s.place[t[2]]}, within))
			}
			s.near[i] = least
		}
	})
	clear(s.moved)
	return err
}

// raise asks more of the corners of faces too near to the outside, and reports
// whether there are any.
func (s *shell) raise() bool {
	missing := make(map[int32]float64) // of a corner; only looked up and summed by maximum
	for i, f := range s.faces {
		lack := s.wall - s.near[i]
		if lack <= 0 {
			continue
		}
		for _, v := range f {
			if v >= 0 {
				missing[v] = max(missing[v], lack)
			}
		}
	}
	for v, lack := range missing {
		s.raised[v]++
		s.target[v] = min(s.safe, max(s.target[v], s.depth[v])+lack+s.slack)
		if s.raised[v] > shellTries {
			s.target[v] = s.safe
		}
	}
	return len(missing) > 0
}
