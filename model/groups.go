package model

import (
	"slices"

	"scalewright/unit"
)

// Groups are what is handled as one thing once all glue has set: pieces joined by
// seams and mounts that don't come apart, with the collars and rings in them. In
// the order of their first pieces.
func (d Division) Groups(mounts []Mount) []Group {
	g := newGlued(d)
	for _, s := range d.Seams {
		if !s.Removable {
			g.join(s.Below, s.Above)
		}
		// A collar stays in the upper shell where the joint comes apart.
		g.join(PieceID{Kind: CollarRing, Part: s.Above.Part, From: s.Above.From}, s.Above)
	}
	for _, s := range d.Seats {
		g.join(s.Ring, s.Host)
	}
	// A bush stays in the core, which is glued into the part that it begins in.
	for _, p := range d.Pieces {
		if p.ID.Kind == Bush {
			g.join(p.ID, d.lowestOn(p.Span.From, p.ID.Part))
		}
	}
	for _, m := range mounts {
		if !m.Removable {
			g.mount(m)
		}
	}
	out := g.groups()
	for i := range out {
		for _, s := range d.Seams {
			if !s.Removable && out[i].holds(s.Below) {
				out[i].Seams = append(out[i].Seams, s.ID)
			}
		}
		for _, m := range mounts {
			if !m.Removable && out[i].guest(m.Guest) {
				out[i].Seams = append(out[i].Seams, m.ID)
			}
		}
	}
	return out
}

// lowestOn is the shell of a part that a station lies in, or its last.
func (d Division) lowestOn(station unit.Length, part string) PieceID {
	var id PieceID
	for _, p := range d.Pieces {
		if p.ID.Kind == Shell && p.ID.Part == part && (id == (PieceID{}) || p.Span.From <= station) {
			id = p.ID
		}
	}
	return id
}

func (g Group) holds(id PieceID) bool {
	return slices.Contains(g.Pieces, id)
}

func (g Group) guest(part string) bool {
	for _, p := range g.Pieces {
		if p.Part == part && p.Kind != Panel {
			return true
		}
	}
	return false
}

// glued is which pieces hang together: each piece's root in a forest.
type glued struct {
	pieces []Piece
	index  map[PieceID]int
	root   []int
}

func newGlued(d Division) *glued {
	g := &glued{pieces: d.Pieces, index: map[PieceID]int{}, root: make([]int, len(d.Pieces))}
	for i, p := range d.Pieces {
		g.index[p.ID], g.root[i] = i, i
	}
	return g
}

func (g *glued) find(i int) int {
	for g.root[i] != i {
		i = g.root[i]
	}
	return i
}

// join makes one of two, named for the earlier.
func (g *glued) join(a, b PieceID) {
	i, ok := g.index[a]
	k, also := g.index[b]
	if !ok || !also {
		return
	}
	i, k = g.find(i), g.find(k)
	g.root[max(i, k)] = min(i, k)
}

// mount joins every piece of a guest to its host, and the pieces of either to one
// another: a part's own cuts are glued.
func (g *glued) mount(m Mount) {
	var first *PieceID
	for _, p := range g.pieces {
		if p.ID.Part != m.Guest && p.ID.Part != m.Host || p.ID.Kind == Panel {
			continue
		}
		if first == nil {
			first = &p.ID
		}
		g.join(*first, p.ID)
	}
}

// free is the part's name, or the piece's where another group bears it.
func free(taken []Group, id PieceID) string {
	for _, g := range taken {
		if g.ID == id.Part {
			return id.String()
		}
	}
	return id.Part
}

func (g *glued) groups() []Group {
	var out []Group
	at := map[int]int{}
	for i, p := range g.pieces {
		root := g.find(i)
		k, ok := at[root]
		if !ok {
			k = len(out)
			at[root] = k
			out = append(out, Group{ID: free(out, p.ID)})
		}
		out[k].Pieces = append(out[k].Pieces, p.ID)
	}
	return out
}
