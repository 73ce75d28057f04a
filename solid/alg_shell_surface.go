package solid

import (
	"context"
	"math/bits"
)

// shellSurface is the level set: corners on edges of the lattice, and what of it
// lies in each tetrahedron.
type shellSurface struct {
	ends   [][2]int32 // of a corner: the lattice points of its edge, that in the cavity first
	place  []Vec
	depth  []float64
	target []float64 // the depth asked for
	raised []uint8   // how often more was asked
	moved  []bool    // since the faces around were measured

	faces [][4]int32 // three corners and −1, or four; seen from the cavity anticlockwise
	tets  []int64    // of a face: its tetrahedron, ascending
	near  []float64  // of a face: its least distance to the outside
}

// shellRing are the corners of the face of a cell towards high x, as seen from
// there, anticlockwise; for y and z the axes take turns. Bits as in shellCorner.
var shellRing = [4][2]int{{0, 0}, {1, 0}, {1, 1}, {0, 1}}

// shellTets are the tetrahedra of one cell towards a cell after it: 3 axes, 4 each.
const shellTets = 12

// extract finds the surface anew from which points are in the cavity. What lies
// on an edge that was there before keeps its place, and a face of which nothing
// changed its distance.
func (s *shell) extract(ctx context.Context) error {
	p := &s.points
	n := len(p.keys)
	old, oldCut, oldFirst := s.shellSurface, append([]uint16(nil), p.cut...), append([]int32(nil), p.first...)
	err := s.each(ctx, "surface", n, shellGrain, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			p.cut[i] = s.cutEdges(int32(i))
		}
	})
	if err != nil {
		return err
	}
	// 1. Corners, in the order of the points that own them.
	s.shellSurface = shellSurface{}
	next := int32(0)
	for i, c := range p.cut {
		p.first[i] = next
		next += int32(bits.OnesCount16(c))
	}
	s.ends = make([][2]int32, next)
	s.place, s.moved = make([]Vec, next), make([]bool, next)
	s.depth, s.target, s.raised = make([]float64, next), make([]float64, next), make([]uint8, next)
	err = s.each(ctx, "surface", n, shellGrain, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			for c := p.cut[i]; c != 0; c &= c - 1 {
				dir := bits.TrailingZeros16(c)
				v := s.cornerOn(int32(i), dir)
				a, b := int32(i), p.at(shellAlong(p.keys[i], dir))
				if !s.inside(a) {
					a, b = b, a
				}
				s.ends[v] = [2]int32{a, b}
				if oldCut[i]&(1<<dir) != 0 {
					w := oldFirst[i] + int32(bits.OnesCount16(oldCut[i]&(1<<dir-1)))
					if old.ends[w] == s.ends[v] {
						s.place[v], s.depth[v], s.target[v], s.raised[v] = old.place[w], old.depth[w], old.target[w], old.raised[w]
						s.moved[v] = old.moved[w]
					}
				}
			}
		}
	})
	if err != nil {
		return err
	}
	// 2. Faces, run by run.
	type run struct {
		faces [][4]int32
		tets  []int64
	}
	runs := make([]run, (n+shellGrain-1)/shellGrain)
	err = s.each(ctx, "surface", n, shellGrain, func(lo, hi int) {
		r := &runs[lo/shellGrain]
		for i := lo; i < hi; i++ {
			if !isMiddle(p.keys[i]) {
				continue
			}
			s.eachTet(int32(i), func(tet int, corner [4]int32, edge func(a, b int) int32) {
				if f, cut := s.faceIn(corner, edge); cut {
					r.faces = append(r.faces, f)
					r.tets = append(r.tets, int64(i)*shellTets+int64(tet))
				}
			})
		}
	})
	for _, r := range runs {
		s.faces = append(s.faces, r.faces...)
		s.tets = append(s.tets, r.tets...)
	}
	s.near = make([]float64, len(s.faces))
	for i, j := 0, 0; i < len(s.tets); i++ {
		for j < len(old.tets) && old.tets[j] < s.tets[i] {
			j++
		}
		s.near[i] = -1
		if j < len(old.tets) && old.tets[j] == s.tets[i] {
			s.near[i] = old.near[j]
		}
	}
	return err
}

// shellAlong returns the key at the other end of one of a point's edges; see
// shellPoints.cut.
func shellAlong(key uint64, dir int) uint64 {
	if dir < 3 {
		return key + 2*shellAxis[dir]
	}
	return shellCorner(key, dir-3)
}

func (s *shell) cutEdges(i int32) (cut uint16) {
	p := &s.points
	key, here := p.keys[i], s.inside(i)
	dirs := 3
	if isMiddle(key) {
		dirs = 11
	}
	for dir := range dirs {
		// A point that isn't listed is on the same side as all its neighbours.
		if j := p.at(shellAlong(key, dir)); j >= 0 && s.inside(j) != here {
			cut |= 1 << dir
		}
	}
	return cut
}

// cornerOn returns the surface's corner on an edge that is cut.
func (s *shell) cornerOn(i int32, dir int) int32 {
	return s.points.first[i] + int32(bits.OnesCount16(s.points.cut[i]&(1<<dir-1)))
}

// eachTet visits the tetrahedra between a cell and the three after it, if those
// are listed. Its corners, by place in the list, run so that the second, third and
// fourth are clockwise seen from the first; edge returns the surface's corner
// between two of them.
func (s *shell) eachTet(c1 int32, visit func(tet int, corner [4]int32, edge func(a, b int) int32)) {
	p := &s.points
	key := p.keys[c1]
	for axis := range 3 {
		next := key + 2*shellAxis[axis]
		c2 := p.at(next)
		if c2 < 0 {
			continue
		}
		u, v := (axis+1)%3, (axis+2)%3
		var bit [4]int // of the ring's corners, seen from the first cell
		var ring [4]int32
		for k, r := range shellRing {
			bit[k] = 1<<axis | r[0]<<u | r[1]<<v
			ring[k] = p.at(shellCorner(key, bit[k]))
		}
		for k := range 4 {
			l := (k + 1) % 4
			corner := [4]int32{c1, c2, ring[k], ring[l]}
			visit(4*axis+k, corner, func(a, b int) int32 {
				if a > b {
					a, b = b, a
				}
				switch {
				case b == 1:
					return s.cornerOn(c1, axis)
				case a == 2: // along the ring's side, owned by its lower end
					if bit[k] < bit[l] {
						return s.cornerOn(ring[k], bits.TrailingZeros(uint(bit[l]-bit[k])))
					}
					return s.cornerOn(ring[l], bits.TrailingZeros(uint(bit[k]-bit[l])))
				}
				to := bit[k]
				if b == 3 {
					to = bit[l]
				}
				if a == 0 {
					return s.cornerOn(c1, 3+to)
				}
				return s.cornerOn(c2, 3+(to&^(1<<axis)))
			})
		}
	}
}

// Even exchanges of a tetrahedron's four corners: one first, or two.
var (
	shellOne = [4][4]int{{0, 1, 2, 3}, {1, 0, 3, 2}, {2, 0, 1, 3}, {3, 0, 2, 1}}
	shellTwo = [6][4]int{{0, 1, 2, 3}, {0, 2, 3, 1}, {0, 3, 1, 2}, {1, 2, 0, 3}, {1, 3, 2, 0}, {2, 3, 0, 1}}
)

// faceIn returns what of the surface lies in a tetrahedron, seen from the cavity
// anticlockwise.
func (s *shell) faceIn(corner [4]int32, edge func(a, b int) int32) (face [4]int32, cut bool) {
	var in [4]bool
	count := 0
	for k, c := range corner {
		in[k] = s.inside(c)
		if in[k] {
			count++
		}
	}
	switch count {
	case 1, 3:
		for _, o := range shellOne {
			if in[o[0]] != (count == 1) {
				continue
			}
			a, b, c := edge(o[0], o[1]), edge(o[0], o[2]), edge(o[0], o[3])
			if count == 1 {
				b, c = c, b
			}
			return [4]int32{a, b, c, -1}, true
		}
	case 2:
		for _, o := range shellTwo {
			if in[o[0]] && in[o[1]] {
				return [4]int32{edge(o[0], o[2]), edge(o[1], o[2]), edge(o[1], o[3]), edge(o[0], o[3])}, true
			}
		}
	}
	return face, false
}

// split returns the one or two triangles of a face, a quadrilateral's by its
// shorter diagonal. Both lie in its tetrahedron, whichever it is.
func (s *shell) split(f [4]int32) [][3]int32 {
	if f[3] < 0 {
		return [][3]int32{{f[0], f[1], f[2]}}
	}
	if nearestSquare(s.place[f[0]], s.place[f[2]]) <= nearestSquare(s.place[f[1]], s.place[f[3]]) {
		return [][3]int32{{f[0], f[1], f[2]}, {f[0], f[2], f[3]}}
	}
	return [][3]int32{{f[0], f[1], f[3]}, {f[1], f[2], f[3]}}
}
