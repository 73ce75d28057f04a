package solid

import (
	"context"
	"slices"
)

// Crossings returns the pairs of triangles of a mesh that go through each other,
// the lower triangle of each first, in order: those [Kernel.Contacts] calls
// [ContactCrossing].
func (k Kernel) Crossings(ctx context.Context, m Mesh) ([][2]int32, error) {
	contacts, err := k.Contacts(ctx, m)
	if err != nil {
		return nil, err
	}
	var out [][2]int32
	for _, c := range contacts {
		if c.Kind == ContactCrossing {
			out = append(out, c.Triangles)
		}
	}
	return out, nil
}

// Contacts returns the pairs of triangles of a mesh that have points in common
// besides the corner or edge they share, in order. A shared corner is a shared
// index: [Mesh.Weld] first where a mesh has equal vertices. A mesh without
// contacts is a surface that never meets itself.
//
// Every answer is exact, as found from signs of [OrientSpace] and [Orient] alone.
// A degenerate triangle counts as the segment its corners span, and where three
// triangles or more meet in it the pairs are told as they are.
//
// Tempting and false: that a surface that passes through itself has a ContactCrossing.
// Where it does so along an edge or through a corner exactly, each single pair
// only touches.
func (k Kernel) Contacts(ctx context.Context, m Mesh) ([]Contact, error) {
	tree, err := k.Tree(ctx, m)
	if err != nil {
		return nil, err
	}
	return k.treeContacts(ctx, tree, tree, func(f, g int32) ContactKind {
		return m.contact(m.Triangles[f], m.Triangles[g])
	})
}

// treeContacts returns what kind finds among the pairs of triangles whose boxes
// meet.
func (k Kernel) treeContacts(ctx context.Context, a, b *Tree, kind func(f, g int32) ContactKind) ([]Contact, error) {
	p := newTreePairs(a, b)
	found := make([][]Contact, len(p.tasks))
	err := k.each(ctx, "contacts", len(p.tasks), 1, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			p.walk(ctx, p.tasks[i], func(f, g int32) {
				if a == b && f > g {
					f, g = g, f
				}
				if c := kind(f, g); c != 0 {
					found[i] = append(found[i], Contact{[2]int32{f, g}, c})
				}
			})
		}
	})
	if err != nil {
		return nil, err
	}
	out := slices.Concat(found...)
	slices.SortFunc(out, Contact.compare)
	return out, nil
}

// contact tells how two triangles of one mesh meet besides what they share.
func (m Mesh) contact(f, g [3]int32) ContactKind {
	shared := 0
	for _, v := range f {
		if v == g[0] || v == g[1] || v == g[2] {
			shared++
		}
	}
	switch shared {
	case 0:
		return contactOf(m.triangle(f), m.triangle(g))
	case 1:
		return contactAtCorner(m.triangle(turnToShared(f, g)), m.triangle(turnToShared(g, f)))
	case 2:
		return contactAtEdge(m.triangle(turnToOwn(f, g)), m.triangle(turnToOwn(g, f)))
	default:
		return ContactTouching // the same triangle twice
	}
}

type triangle [3]Vec

func (m Mesh) triangle(f [3]int32) triangle {
	return triangle{m.Vertices[f[0]], m.Vertices[f[1]], m.Vertices[f[2]]}
}

// turnToShared turns f so that the corner it shares with g comes first.
func turnToShared(f, g [3]int32) [3]int32 {
	for f[0] != g[0] && f[0] != g[1] && f[0] != g[2] {
		f = [3]int32{f[1], f[2], f[0]}
	}
	return f
}

// turnToOwn turns f so that the corner that is not g's comes first. A triangle
// that names a vertex twice may have none.
func turnToOwn(f, g [3]int32) [3]int32 {
	for range 2 {
		if f[0] != g[0] && f[0] != g[1] && f[0] != g[2] {
			break
		}
		f = [3]int32{f[1], f[2], f[0]}
	}
	return f
}

// contactAtCorner is for triangles that share their first corner. What they have
// in common besides is convex with it, and so reaches the edge opposite the
// corner in one of them.
func contactAtCorner(a, b triangle) ContactKind {
	if shadowsPart(a, b, []int{0, 2}, []int{1, 2}) {
		return 0
	}
	sa, sb := b.sides(a), a.sides(b)
	if sidesApart(sa[1:]) || sidesApart(sb[1:]) {
		return 0
	}
	if goThrough(a, b, sa, sb) {
		return ContactCrossing
	}
	if b.meets(a[1], a[2]) || a.meets(b[1], b[2]) {
		return ContactTouching
	}
	return 0
}

// contactAtEdge is for triangles that share the edge opposite their first corner:
// they meet elsewhere only where one is folded flat onto the other, or where both
// are degenerate and stick out of the edge on one side.
func contactAtEdge(a, b triangle) ContactKind {
	// Seen along an axis, folded triangles lie on the same side of the edge.
	folded := false
	for k := range 3 {
		p, q := flatAlong(k, a[1]), flatAlong(k, a[2])
		s, t := Orient(p, q, flatAlong(k, a[0])), Orient(p, q, flatAlong(k, b[0]))
		if s == -t && s != Straight {
			return 0
		}
		folded = folded || s == t && s != Straight
	}
	if OrientSpace(a[0], a[1], a[2], b[0]) != On {
		return 0
	}
	sticksOut := func(t, other triangle) bool {
		return !touchesEdge(t[0], t[1], t[2]) && touchesTriangle(t[0], other[0], other[1], other[2])
	}
	if folded || sticksOut(a, b) || sticksOut(b, a) {
		return ContactTouching
	}
	return 0
}

// contactOf is for triangles that share nothing.
func contactOf(a, b triangle) ContactKind {
	if shadowsPart(a, b, []int{0, 1, 2}, []int{0, 1, 2}) {
		return 0
	}
	sa := b.sides(a)
	if sidesApart(sa[:]) {
		return 0
	}
	sb := a.sides(b)
	if sidesApart(sb[:]) {
		return 0
	}
	if goThrough(a, b, sa, sb) {
		return ContactCrossing
	}
	for k := range 3 {
		if b.meets(a[k], a[(k+1)%3]) || a.meets(b[k], b[(k+1)%3]) {
			return ContactTouching
		}
	}
	return 0
}

// shadowsPart reports whether, seen along an axis, an edge of one triangle has the
// other beyond it: no point in common then. It settles most pairs, those in one
// plane too, more cheaply than any sign in space. Edges k are from corner k to
// the next; only the given ones are tried, and only the given corners looked at.
func shadowsPart(a, b triangle, edges, corners []int) bool {
	for axis := range 3 {
		var p, q [3]Point
		for k := range 3 {
			p[k], q[k] = flatAlong(axis, a[k]), flatAlong(axis, b[k])
		}
		if beyondEdge(&p, &q, edges, corners) || beyondEdge(&q, &p, edges, corners) {
			return true
		}
	}
	return false
}

// beyondEdge reports whether the corners of q lie strictly beyond one of the
// edges of p.
func beyondEdge(p, q *[3]Point, edges, corners []int) bool {
	turn := Orient(p[0], p[1], p[2])
	if turn == Straight {
		return false
	}
	for _, k := range edges {
		beyond := true
		for _, c := range corners {
			if Orient(p[k], p[(k+1)%3], q[c]) != -turn {
				beyond = false
				break
			}
		}
		if beyond {
			return true
		}
	}
	return false
}

// sides returns on which side of t the corners of another lie.
func (t triangle) sides(of triangle) (s [3]Side) {
	for k := range 3 {
		s[k] = OrientSpace(t[0], t[1], t[2], of[k])
	}
	return s
}

// sidesApart reports whether all lie strictly on one side.
func sidesApart(s []Side) bool {
	for _, x := range s {
		if x == On || x != s[0] {
			return false
		}
	}
	return true
}

// goThrough reports whether two triangles go through each other. Each meets the
// line that their planes have in common in a segment; the two segments overlap
// in more than a point. Which of their ends comes first is the side of one edge
// on which another passes (P. Guigue and O. Devillers, "Fast and robust
// triangle-triangle overlap test using orientation predicates", J. Graph. Tools
// 8 (2003) 25–42, section 3).
func goThrough(a, b triangle, sa, sb [3]Side) bool {
	a, sa, okA := turnToAlone(a, sa)
	b, sb, okB := turnToAlone(b, sb)
	if !okA || !okB {
		return false
	}
	// The corner that is alone must lie above the other's plane.
	if sa[0] == Below {
		b[1], b[2] = b[2], b[1]
	}
	if sb[0] == Below {
		a[1], a[2] = a[2], a[1]
	}
	return OrientSpace(a[0], a[1], b[0], b[1]) == Below && OrientSpace(a[0], a[2], b[2], b[0]) == Below
}

// turnToAlone turns a triangle so that its first corner is the only one strictly
// on its side; false where it doesn't have corners on both sides.
func turnToAlone(t triangle, s [3]Side) (triangle, [3]Side, bool) {
	for range 3 {
		if s[0] != On && s[1] != s[0] && s[2] != s[0] && (s[1] == -s[0] || s[2] == -s[0]) {
			return t, s, true
		}
		t, s = triangle{t[1], t[2], t[0]}, [3]Side{s[1], s[2], s[0]}
	}
	return t, s, false
}

// meets reports whether the closed segment from p to q has a point in common with
// the closed triangle.
func (t triangle) meets(p, q Vec) bool {
	sp, sq := OrientSpace(t[0], t[1], t[2], p), OrientSpace(t[0], t[1], t[2], q)
	switch {
	case sp == On && touchesTriangle(p, t[0], t[1], t[2]), sq == On && touchesTriangle(q, t[0], t[1], t[2]):
		return true
	case sp == On && sq == On:
		return segmentsTouch(p, q, t[0], t[1]) || segmentsTouch(p, q, t[1], t[2]) || segmentsTouch(p, q, t[2], t[0])
	case sp != -sq:
		return false
	}
	// It passes through the plane: inside if it passes all edges on one side.
	above, below := false, false
	for k := range 3 {
		s := OrientSpace(p, q, t[k], t[(k+1)%3])
		above, below = above || s == Above, below || s == Below
	}
	return !above || !below
}

// segmentsTouch reports whether two closed segments have a point in common.
func segmentsTouch(p, q, a, b Vec) bool {
	for k := range 3 {
		if max(p[k], q[k]) < min(a[k], b[k]) || max(a[k], b[k]) < min(p[k], q[k]) {
			return false
		}
	}
	if OrientSpace(p, q, a, b) != On {
		return false
	}
	// In one plane: the shadow along an axis in which they are not all on one
	// line tells.
	for k := range 3 {
		p, q, a, b := flatAlong(k, p), flatAlong(k, q), flatAlong(k, a), flatAlong(k, b)
		sa, sb, sp, sq := Orient(p, q, a), Orient(p, q, b), Orient(a, b, p), Orient(a, b, q)
		if sa == Straight && sb == Straight && sp == Straight && sq == Straight {
			continue
		}
		return sa*sb <= 0 && sp*sq <= 0
	}
	return true // on one line, and the boxes meet
}
