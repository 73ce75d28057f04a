package solid

import (
	"context"
	"slices"
)

// Meeting says how two solids lie to each other.
type Meeting uint8

// The three answers of [Kernel.Overlap].
const (
	Apart       Meeting = iota // no point in common
	InContact                  // points of their surfaces alone in common
	Overlapping                // room in common
)

// String returns the answer in words.
func (m Meeting) String() string {
	return [...]string{"apart", "in contact", "overlapping"}[m]
}

// Overlap is how two solids lie to each other, and where they meet.
type Overlap struct {
	Meeting Meeting
	// Contacts are the pairs of a triangle of the first and one of the second
	// that have points in common, in order.
	Contacts []Contact
	// Within is the lowest triangle of the first found within the second, and of
	// the second within the first; −1 where none was looked at or found. Looked at
	// are triangles with contacts, by their centroid, and one of every component
	// without.
	Within [2]int32
}

// Overlap tells whether two solids have room in common, and which of their
// triangles meet. Both must be closed; the error is otherwise a [*NotSolidError].
//
// Solids that touch in a face, an edge or a corner are in contact and don't
// overlap; a solid overlaps with itself and with what it holds. All is decided by
// exact signs of the given coordinates; the one rounded thing is the centroid of
// a triangle that touches the other surface without crossing it, which a
// triangle thinner than a rounding may not hold.
func (k Kernel) Overlap(ctx context.Context, a, b Mesh) (Overlap, error) {
	trees, err := k.closedTrees(ctx, a, b)
	if err != nil {
		return Overlap{}, err
	}
	return k.overlap(ctx, trees)
}

// closedTrees builds the trees of two solids, refusing what isn't closed.
func (k Kernel) closedTrees(ctx context.Context, solids ...Mesh) (trees [2]*Tree, err error) {
	for i, m := range solids {
		if trees[i], err = k.Tree(ctx, m); err != nil {
			return trees, err
		}
		if faults := m.unbalanced(); len(faults) > 0 {
			return trees, &NotSolidError{Faults: faults}
		}
	}
	return trees, ctx.Err()
}

// unbalanced returns the edges along which not as many triangles run one way as
// the other. Without them the surface has no rim, and winding has a meaning; an
// edge of four triangles doesn't matter.
func (m Mesh) unbalanced() []Fault {
	var faults []Fault
	m.eachEdge(func(lo, hi int32, halves []int32) {
		n := 0
		for _, h := range halves {
			switch {
			case m.tail(h) == m.head(h): // a triangle that names a vertex twice
			case m.tail(h) == lo:
				n++
			default:
				n--
			}
		}
		if f, bad := m.edgeFault(lo, hi, halves); bad && n != 0 {
			faults = append(faults, f)
		}
	})
	return faults
}

func (k Kernel) overlap(ctx context.Context, trees [2]*Tree) (Overlap, error) {
	a, b := trees[0].mesh, trees[1].mesh
	out := Overlap{Within: [2]int32{-1, -1}}
	var err error
	out.Contacts, err = k.treeContacts(ctx, trees[0], trees[1], func(f, g int32) ContactKind {
		return contactOf(a.triangle(a.Triangles[f]), b.triangle(b.Triangles[g]))
	})
	if err != nil {
		return Overlap{}, err
	}
	through := slices.ContainsFunc(out.Contacts, func(c Contact) bool { return c.Kind == ContactCrossing })
	through = through || passThrough(a, b, out.Contacts)
	for i := range 2 {
		if out.Within[i], err = k.firstWithin(ctx, trees[i].mesh, i, out.Contacts, trees[1-i]); err != nil {
			return Overlap{}, err
		}
		through = through || out.Within[i] >= 0
	}
	switch {
	case through:
		out.Meeting = Overlapping
	case len(out.Contacts) > 0:
		out.Meeting = InContact
	}
	return out, nil
}

// firstWithin returns the lowest triangle of m, of those with contacts and one of
// every component without, that is within the other solid; −1 where none is.
// side is the place of m in the contacts.
func (k Kernel) firstWithin(ctx context.Context, m Mesh, side int, contacts []Contact, other *Tree) (int32, error) {
	touched := make([]bool, len(m.Triangles))
	for _, c := range contacts {
		touched[c.Triangles[side]] = true
	}
	label, n := m.components()
	seen := make([]bool, n)
	for f, t := range touched {
		seen[label[f]] = seen[label[f]] || t
	}
	var look []int32
	for f, t := range touched {
		if t || !seen[label[f]] {
			seen[label[f]] = true
			look = append(look, int32(f))
		}
	}
	within := make([]bool, len(look))
	err := k.each(ctx, "within", len(look), thicknessGrain, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			t := m.triangle(m.Triangles[look[i]])
			p := t[0]
			if touched[look[i]] {
				p = t[0].Add(t[1]).Add(t[2]).Scale(1.0 / 3)
			}
			winding, on := other.winding(&p)
			within[i] = winding > 0 && !on
		}
	})
	if i := slices.Index(within, true); i >= 0 {
		return look[i], err
	}
	return -1, err
}
