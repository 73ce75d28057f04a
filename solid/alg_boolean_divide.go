package solid

import (
	"cmp"
	"slices"
)

// division holds what is left of the edges of two solids. Faces are numbered P's
// first, then Q's; vertices as in the result.
type division struct {
	sides    [2]remains
	points   []Vec   // of the result
	original int32   // points that are vertices of the operands come first
	reach    float64 // lengths below this mean nothing
	pieces   []piece // of edges of divided faces
	divided  []bool  // of a face: an edge passes it, or one of its own is divided
	entries  []entry // where new edges start and end
	borders  []border
}

// border is a side of a piece at a whole face, where the piece is copy n of the
// face's half-edge.
type border struct {
	name    int32 // see outline
	operand int8
	half, n int32
}

// remains is one operand and what the operation keeps of it.
type remains struct {
	*operand
	base  int32    // number of its first face
	kept  []int32  // of a vertex: how many copies, negative where they are turned over
	first []int32  // of a vertex: its first copy in the result
	cross []pierce // where its edges pass the other's faces
	at    []int32  // of such a place: its first copy in the result
	both  int32    // see operation
	// turned: its faces are walls of the cavity it leaves, seen from within.
	turned bool
}

// piece is a part of an edge that the result has: the face on its left runs along
// it from start to end, the face on its right from end to start.
type piece struct{ start, end, left, right int32 }

// entry is a place where the new edge between two faces starts or ends.
type entry struct {
	p, q   int32 // the faces, q with its base
	vertex int32
	starts bool
}

func newDivision(s *shadows, op operation, windP, windQ []int32, crossP, crossQ []pierce) *division {
	d := &division{sides: [2]remains{
		{operand: s.p, kept: windP, cross: crossP, both: op.both},
		{operand: s.q, kept: windQ, cross: crossQ, both: op.both, base: int32(len(s.p.Triangles))},
	}}
	d.sides[1].turned = op == difference
	d.divided = make([]bool, len(s.p.Triangles)+len(s.q.Triangles))
	for i, alone := range [2]int32{op.p, op.q} {
		o := &d.sides[i]
		o.first = make([]int32, len(o.Vertices))
		for v, w := range o.kept {
			o.first[v] = int32(len(d.points))
			o.kept[v] = 0
			if o.leaving[v] >= 0 {
				o.kept[v] = alone + op.both*w
				d.add(o.Vertices[v], o.kept[v])
			}
		}
	}
	d.original = int32(len(d.points))
	for i := range d.sides {
		o := &d.sides[i]
		o.at = make([]int32, len(o.cross))
		for c, x := range o.cross {
			o.at[c] = int32(len(d.points))
			d.add(x.at, op.both*int32(x.enters))
		}
	}
	d.reach = reachOf(s.p.Bounds().join(s.q.Bounds()))
	return d
}

func (d *division) add(p Vec, copies int32) {
	for range abs(copies) {
		d.points = append(d.points, p)
	}
}

func abs(n int32) int32 {
	if n < 0 {
		return -n
	}
	return n
}

// end is where a piece of an edge starts or ends.
type end struct {
	place  float64 // along the edge
	vertex int32
	starts bool
}

// divideEdges makes the pieces of the edges that pass faces. Going along an edge
// from its lower vertex, the number of copies kept changes at every place where it
// passes a face, so pieces start where it goes up and end where it goes down, and
// there are as many starts as ends. Where copies are turned over the pieces run
// backwards by themselves.
func (d *division) divideEdges() {
	for i := range d.sides {
		o := &d.sides[i]
		for c := 0; c < len(o.cross); {
			edge, first := o.cross[c].edge, c
			for c < len(o.cross) && o.cross[c].edge == edge {
				c++
			}
			d.divideEdge(i, edge, first, c)
		}
	}
}

func (d *division) divideEdge(i int, edge int32, first, last int) {
	o := &d.sides[i]
	low, high := o.tail(edge), o.head(edge)
	left, right := o.base+edge/3, o.base+o.opposite[edge]/3
	d.divided[left], d.divided[right] = true, true
	along := o.Vertices[high].Sub(o.Vertices[low])
	var ends []end
	mark := func(p Vec, vertex, change int32) {
		place := p.Sub(o.Vertices[low]).Dot(along)
		for n := range abs(change) {
			ends = append(ends, end{place, vertex + n, change > 0})
		}
	}
	mark(o.Vertices[low], o.first[low], o.kept[low])
	for c := first; c < last; c++ {
		x := o.cross[c]
		change := o.both * int32(x.enters)
		mark(x.at, o.at[c], change)
		// The new edge that goes on where a piece ends starts there, on the
		// left of the edge; on its right all is the other way round.
		through := d.sides[1-i].base + x.face
		d.divided[through] = true
		for n := range abs(change) {
			if i == 0 {
				d.entries = append(d.entries,
					entry{left, through, o.at[c] + n, change < 0},
					entry{right, through, o.at[c] + n, change > 0})
			} else {
				d.entries = append(d.entries,
					entry{through, left, o.at[c] + n, change > 0},
					entry{through, right, o.at[c] + n, change < 0})
			}
		}
	}
	mark(o.Vertices[high], o.first[high], -o.kept[high])
	d.pair(ends, left, right)
}

// pair makes pieces of ends: the first that starts with the first that ends, the
// second with the second, and so on along the edge.
func (d *division) pair(ends []end, left, right int32) {
	// Stable: what lies at one place stays in the order it was found, which is
	// that of the input.
	slices.SortStableFunc(ends, func(a, b end) int { return cmp.Compare(a.place, b.place) })
	var starts, stops []int32
	for _, e := range ends {
		if e.starts {
			starts = append(starts, e.vertex)
		} else {
			stops = append(stops, e.vertex)
		}
	}
	if len(starts) != len(stops) {
		panic("solid: internal error: an edge has a piece without an end")
	}
	for n := range starts {
		d.pieces = append(d.pieces, piece{starts[n], stops[n], left, right})
	}
}

// crossFaces makes the new edges, where two faces cross: P's face has them on its
// left from start to end, Q's on the other side.
func (d *division) crossFaces() {
	slices.SortStableFunc(d.entries, func(a, b entry) int {
		return cmp.Or(cmp.Compare(a.p, b.p), cmp.Compare(a.q, b.q))
	})
	for i := 0; i < len(d.entries); {
		first := i
		box := noBounds
		for ; i < len(d.entries) && d.entries[i].p == d.entries[first].p && d.entries[i].q == d.entries[first].q; i++ {
			p := d.points[d.entries[i].vertex]
			box = box.join(Bounds{p, p})
		}
		axis := longestAxis(box.Size())
		ends := make([]end, 0, i-first)
		for _, e := range d.entries[first:i] {
			ends = append(ends, end{d.points[e.vertex][axis], e.vertex, e.starts})
		}
		d.pair(ends, d.entries[first].p, d.entries[first].q)
	}
	d.entries = nil
}

func longestAxis(v Vec) int {
	axis := 0
	for k, x := range v {
		if x > v[axis] {
			axis = k
		}
	}
	return axis
}

// keepEdges makes a piece of every copy of a whole edge that a divided face has.
func (d *division) keepEdges() {
	for i := range d.sides {
		o := &d.sides[i]
		cut := make(map[int32]bool, len(o.cross)) // only looked up
		for _, c := range o.cross {
			cut[c.edge] = true
		}
		for f := range int32(len(o.Triangles)) {
			if !d.divided[o.base+f] {
				continue
			}
			for half := 3 * f; half < 3*f+3; half++ {
				edge, along := o.lowHigh(half)
				other := o.base + o.opposite[half]/3
				if cut[edge] || along < 0 && d.divided[other] {
					continue // divided, or made by the face on the other side
				}
				low, high := o.tail(edge), o.head(edge)
				left, right := o.base+edge/3, o.base+o.opposite[edge]/3
				for n := range abs(o.kept[low]) {
					p := piece{o.first[low] + n, o.first[high] + n, left, right}
					if o.kept[low] < 0 {
						p.start, p.end = p.end, p.start
					}
					name := int32(2 * len(d.pieces))
					d.pieces = append(d.pieces, p)
					if !d.divided[left] {
						d.borders = append(d.borders, border{name, int8(i), edge, n})
					}
					if !d.divided[right] {
						d.borders = append(d.borders, border{name + 1, int8(i), o.opposite[edge], n})
					}
				}
			}
		}
	}
}
