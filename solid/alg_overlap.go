package solid

import (
	"context"
	"math"
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
	// are triangles with contacts and one of every part without.
	Within [2]int32
}

// Overlap tells whether two solids have room in common, and which of their
// triangles meet. Both must be closed; the error is otherwise a [*NotSolidError].
//
// Solids that touch in a face, an edge or a corner are in contact and don't
// overlap; a solid overlaps with itself and with what it holds. All is decided by
// exact signs of the given coordinates, but where a triangle has its corners on
// the other surface and neither crosses it nor lies on it: there points inside the
// triangle decide, and one that is thinner or nearer than a rounding counts as
// lying on the surface.
func (k Kernel) Overlap(ctx context.Context, a, b Mesh) (Overlap, error) {
	trees, err := k.closedTrees(ctx, a, b)
	if err != nil {
		return Overlap{}, err
	}
	return k.overlap(ctx, trees)
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
// every part without, that is within the other solid; −1 where none is. side is
// the place of m in the contacts. A part is what hangs together by vertices: a
// vertex off the other surface has all its triangles on one side, and at one on
// it they have contacts.
func (k Kernel) firstWithin(ctx context.Context, m Mesh, side int, contacts []Contact, other *Tree) (int32, error) {
	touched := make([]bool, len(m.Triangles))
	for _, c := range contacts {
		touched[c.Triangles[side]] = true
	}
	part := newSets(len(m.Vertices))
	for _, f := range m.Triangles {
		part.join(f[0], f[1])
		part.join(f[1], f[2])
	}
	seen := make([]bool, len(m.Vertices)) // of the part whose root it is
	for f, t := range touched {
		root := part.find(m.Triangles[f][0])
		seen[root] = seen[root] || t
	}
	var look []int32
	for f, t := range touched {
		if root := part.find(m.Triangles[f][0]); t || !seen[root] {
			seen[root] = true
			look = append(look, int32(f))
		}
	}
	within := make([]bool, len(look))
	err := k.each(ctx, "within", len(look), thicknessGrain, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			within[i] = other.encloses(m.triangle(m.Triangles[look[i]]))
		}
	})
	if i := slices.Index(within, true); i >= 0 {
		return look[i], err
	}
	return -1, err
}

// encloses reports whether a triangle that doesn't pass through the surface lies
// in the solid. A corner off the surface tells.
func (t *Tree) encloses(f triangle) bool {
	for k := range f {
		if winding, on := t.winding(&f[k]); !on {
			return winding > 0
		}
	}
	// A point inside the triangle tells where its rounding can't have moved it
	// through the surface.
	var size float64
	for _, v := range f {
		size = max(size, math.Abs(v[0]), math.Abs(v[1]), math.Abs(v[2]))
	}
	room := float64(insideRounding * size)
	for _, w := range [...]Vec{{1. / 3, 1. / 3, 1. / 3}, {0.5, 0.25, 0.25}, {0.25, 0.5, 0.25}, {0.25, 0.25, 0.5}} {
		p := f[0].Scale(w[0]).Add(f[1].Scale(w[1])).Add(f[2].Scale(w[2]))
		if _, near, _ := t.Nearest(p, room); !near {
			winding, on := t.winding(&p)
			return winding > 0 && !on
		}
	}
	return false
}

// insideRounding is how far a weighted mean of three points, and what Nearest
// says of it, can be off in units of the largest coordinate: fewer than 32
// roundings of 2⁻⁵³.
const insideRounding = 32 * 0x1p-53
