package solid

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// The lattice has a point at every corner and in the middle of every cell.
// Counted in half cells the coordinates of a corner are even, those of a middle
// odd. Two middles across a face, with two neighbouring corners of that face, are
// a tetrahedron; twelve to a cell fill space. Its edges are one cell or √3/2 of
// one long, and two of its points never more than a cell apart.
//
//	       e1 --- e2          c1, c2 middles of neighbouring cells,
//	     / |     / |          e1 … e4 the face between them
//	c1 ·   |   /   |   · c2
//	     / |     / |
//	    e4 --- e3 /

// shellPoints are the lattice points near the level, by key.
type shellPoints struct {
	keys  []uint64
	depth []float64
	// cut holds for the edges that a point owns whether they pass the level: bits 0
	// to 2 those to the next point of its kind along x, y, z; bits 3 to 10, of a
	// middle, those to the corners of its cell.
	cut   []uint16
	first []int32 // the number of the surface's corner on the first of them
	out   []bool  // counted as outside the cavity though deep enough
}

const (
	shellBits = 21 // of one coordinate in a key
	shellX    = uint64(1)
	shellY    = uint64(1) << shellBits
	shellZ    = uint64(1) << (2 * shellBits)
	shellMask = shellY - 1
)

var shellAxis = [3]uint64{shellX, shellY, shellZ}

func shellKey(i, j, k uint64) uint64 { return k<<(2*shellBits) | j<<shellBits | i }

// shellCorner returns the key of a corner of the cell of a middle: bit 0 of c
// means high in x, and so on.
func shellCorner(middle uint64, c int) uint64 {
	for k, step := range shellAxis {
		if c>>k&1 != 0 {
			middle += step
		} else {
			middle -= step
		}
	}
	return middle
}

func isMiddle(key uint64) bool { return key&1 != 0 }

// at returns the place of the point with a key, or −1.
func (p *shellPoints) at(key uint64) int32 {
	i, found := slices.BinarySearch(p.keys, key)
	if !found {
		return -1
	}
	return int32(i)
}

// where returns a lattice point in space; key may be of a block's middle as well.
func (s *shell) where(key uint64) Vec {
	return Vec{
		s.origin[0] + float64(s.unit*float64(key&shellMask)),
		s.origin[1] + float64(s.unit*float64(key>>shellBits&shellMask)),
		s.origin[2] + float64(s.unit*float64(key>>(2*shellBits))),
	}
}

// depthAt returns the distance of a point to the nearest triangle, which is known
// to be no more than within.
func (s *shell) depthAt(p Vec, within float64) float64 {
	n, found, err := s.tree.Nearest(p, within+s.slack)
	if err != nil || !found {
		panic("solid: internal error: no triangle within the known distance")
	}
	return n.Distance
}

// inside reports whether point i is one of the cavity's.
func (s *shell) inside(i int32) bool { return s.points.depth[i] >= s.least && !s.points.out[i] }

// shellBlock is a cube of 2^level cells.
type shellBlock struct {
	middle uint64  // key
	depth  float64 // of its middle
	known  bool    // that it lies inside the solid
	keep   bool
}

// band is how far from the wall the depth of a cell's middle may be for a
// tetrahedron at it to pass the level: one of its points is deeper than least,
// another less deep than sure, and both are within a cell.
func (s *shell) band() float64 { return s.cell + s.sure - s.wall + s.slack }

// findPoints finds the cells near the level, from the whole box down to them. A
// block is looked into if a cell in it may be one, since the depth changes by no
// more than the way; and once its middle is deeper than its half diagonal, no
// surface passes through it and one look tells whether it is in the solid.
func (s *shell) findPoints(ctx context.Context) error {
	if s.tree.mesh.Empty() {
		return nil
	}
	half := uint64(1) << s.levels
	root := shellBlock{middle: shellKey(half, half, half)}
	root.depth = s.depthAt(s.where(root.middle), math.Inf(1))
	blocks := []shellBlock{root}
	s.look(&blocks[0], s.levels)
	for level := s.levels - 1; level >= 0; level-- {
		parents := slices.DeleteFunc(blocks, func(b shellBlock) bool { return !b.keep })
		if s.tooMany(len(parents), level) {
			return &ValueError{"Cell", s.cell, "larger (there would be over ten million cells)"}
		}
		blocks = make([]shellBlock, 8*len(parents))
		// Half a parent's half diagonal.
		way := math.Sqrt(3) / 2 * s.cell * float64(int(1)<<level)
		err := s.each(ctx, "lattice", len(blocks), shellGrain, func(lo, hi int) {
			for i := lo; i < hi; i++ {
				b, p := &blocks[i], &parents[i/8]
				b.middle, b.known = p.middle, p.known
				for k, step := range shellAxis {
					if i>>k&1 != 0 {
						b.middle += step << level
					} else {
						b.middle -= step << level
					}
				}
				b.depth = s.depthAt(s.where(b.middle), p.depth+way)
				s.look(b, level)
			}
		})
		if err != nil {
			return err
		}
	}
	return s.takePoints(ctx, slices.DeleteFunc(blocks, func(b shellBlock) bool { return !b.keep }))
}

// tooMany reports whether there are too many blocks to halve once more, or will
// be. Much smaller than the wall, blocks follow the surface of the cavity: each
// halving makes four of one. Three are counted, since the first make fewer.
func (s *shell) tooMany(parents, level int) bool {
	if width := s.cell * float64(int(2)<<level); width <= s.wall/8 {
		return float64(parents)*math.Pow(3, float64(level)) > shellMostBlocks/8
	}
	return parents > shellMostBlocks/8
}

// shellGrain is the number of distances of a run, some microseconds each.
const shellGrain = 1 << 9

func (s *shell) look(b *shellBlock, level int) {
	width := s.cell * float64(int(1)<<level)
	reach := s.band() + float64(math.Sqrt(3)/2*(width-s.cell))
	if math.Abs(b.depth-s.wall) > reach {
		return
	}
	if !b.known && b.depth > math.Sqrt(3)/2*width+s.slack {
		place, err := s.tree.Locate(s.where(b.middle))
		if err != nil || place != Inside {
			return
		}
		b.known = true
	}
	b.keep = true
}

// takePoints lists the middles and corners of the cells, and finds the depth of
// the corners.
func (s *shell) takePoints(ctx context.Context, cells []shellBlock) error {
	corners := make([]uint64, 0, 8*len(cells))
	for _, c := range cells {
		for i := range 8 {
			corners = append(corners, shellCorner(c.middle, i))
		}
	}
	slices.Sort(corners)
	corners = slices.Compact(corners)
	slices.SortFunc(cells, func(a, b shellBlock) int { return cmp.Compare(a.middle, b.middle) })
	p, n := &s.points, len(corners)+len(cells)
	p.keys, p.depth = make([]uint64, n), make([]float64, n)
	p.cut, p.first, p.out = make([]uint16, n), make([]int32, n), make([]bool, n)
	for i, c, m := 0, 0, 0; i < n; i++ {
		if m == len(cells) || c < len(corners) && corners[c] < cells[m].middle {
			p.keys[i] = corners[c]
			c++
		} else {
			p.keys[i], p.depth[i] = cells[m].middle, cells[m].depth
			m++
		}
	}
	farthest := s.wall + s.band() + s.cell // a corner is within a cell of a middle
	return s.each(ctx, "lattice", n, shellGrain, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			if !isMiddle(p.keys[i]) {
				p.depth[i] = s.depthAt(s.where(p.keys[i]), farthest)
			}
		}
	})
}
