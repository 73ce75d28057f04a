package solid

import (
	"cmp"
	"slices"
)

// chain puts pieces into rows. Two pieces follow each other where they are of one
// solid, kind and visibility and end in the same point, at which no third does.
func (s *scene) chain(pieces []edgePiece) []Polyline {
	// 1. Sorted by what they are; within, by the mesh.
	key := func(p edgePiece) [4]int32 {
		e := &s.edges[p.edge]
		hidden := int32(0)
		if p.hidden {
			hidden = 1
		}
		return [4]int32{e.solid, e.other, int32(e.kind), hidden}
	}
	slices.SortStableFunc(pieces, func(p, q edgePiece) int {
		a, b := key(p), key(q)
		return slices.Compare(a[:], b[:])
	})
	var out []Polyline
	for lo := 0; lo < len(pieces); {
		hi := lo + 1
		for hi < len(pieces) && key(pieces[hi]) == key(pieces[lo]) {
			hi++
		}
		out = append(out, s.rows(pieces[lo:hi])...)
		lo = hi
	}
	return out
}

// ends returns where a piece starts and ends. Where it is cut is a function of the
// edge and the number, so the seen and the hidden piece share the bits.
func (s *scene) ends(p edgePiece) [2]Vec {
	e := &s.edges[p.edge]
	at := func(t float64) Vec {
		switch t {
		case 0:
			return e.from
		case 1:
			return e.to
		}
		return e.from.Add(e.to.Sub(e.from).Scale(t))
	}
	return [2]Vec{at(p.from), at(p.to)}
}

// rows chains pieces that are all alike.
func (s *scene) rows(pieces []edgePiece) []Polyline {
	// 1. The ends, sorted by place: equal ones lie side by side.
	type end struct {
		at    Vec
		piece int32
		which int8 // 0: the start
	}
	ends := make([]end, 0, 2*len(pieces))
	for i, p := range pieces {
		for j, at := range s.ends(p) {
			ends = append(ends, end{at, int32(i), int8(j)})
		}
	}
	slices.SortFunc(ends, func(a, b end) int {
		return cmp.Or(
			cmp.Compare(a.at[0], b.at[0]), cmp.Compare(a.at[1], b.at[1]), cmp.Compare(a.at[2], b.at[2]),
			cmp.Compare(a.piece, b.piece), cmp.Compare(a.which, b.which),
		)
	})
	// 2. Which end meets which: 2·piece + which; −1 where none or several do.
	meets := make([]int32, len(ends))
	for lo := 0; lo < len(ends); {
		hi := lo + 1
		for hi < len(ends) && ends[hi].at == ends[lo].at {
			hi++
		}
		for i := lo; i < hi; i++ {
			meets[2*ends[i].piece+int32(ends[i].which)] = -1
		}
		if hi-lo == 2 {
			a, b := 2*ends[lo].piece+int32(ends[lo].which), 2*ends[lo+1].piece+int32(ends[lo+1].which)
			meets[a], meets[b] = b, a
		}
		lo = hi
	}
	// 3. Rows from open ends first, then the rings. Each row runs as its first
	// piece does, except where it had to be started from that one's end.
	taken := make([]bool, len(pieces))
	var out []Polyline
	follow := func(start int32) { // from this end
		row := []Vec{s.ends(pieces[start/2])[start%2]}
		for end := start; ; {
			taken[end/2] = true
			end ^= 1
			row = append(row, s.ends(pieces[end/2])[end%2])
			end = meets[end]
			if end < 0 || taken[end/2] {
				break
			}
		}
		out = append(out, s.polyline(pieces[start/2], row))
	}
	for _, which := range [2]int32{0, 1} {
		for i := range int32(len(pieces)) {
			if !taken[i] && meets[2*i+which] < 0 {
				follow(2*i + which)
			}
		}
	}
	for i := range int32(len(pieces)) {
		if !taken[i] {
			follow(2 * i)
		}
	}
	return out
}

func (s *scene) polyline(p edgePiece, row []Vec) Polyline {
	e := &s.edges[p.edge]
	out := Polyline{
		Solid: s.ids[e.solid], Kind: e.kind, Hidden: p.hidden,
		Points: make([]Point, len(row)), Depths: make([]float64, len(row)),
	}
	if e.other >= 0 {
		out.Other = s.ids[e.other]
	}
	for i, at := range row {
		out.Points[i], out.Depths[i] = Point{at[0] + 0, at[1] + 0}, at[2]+0
	}
	return out
}
