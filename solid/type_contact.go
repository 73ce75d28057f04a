package solid

// ContactKind says how two triangles have points in common.
type ContactKind uint8

// The kinds of contact.
const (
	// ContactTouching: they share points but neither goes through the other. A
	// corner or an edge of one lies on the other, or both lie in one plane.
	ContactTouching ContactKind = iota + 1
	// ContactCrossing: they go through each other. Along a segment inside both,
	// each has a corner on either side of the other.
	ContactCrossing
)

// String returns the kind in a word.
func (k ContactKind) String() string {
	switch k {
	case ContactTouching:
		return "touching"
	case ContactCrossing:
		return "crossing"
	default:
		return "apart"
	}
}

// Contact is a pair of triangles with points in common: two of one mesh, the
// lower first, or one of each of two.
type Contact struct {
	Triangles [2]int32
	Kind      ContactKind
}

func (c Contact) compare(d Contact) int {
	if c.Triangles[0] != d.Triangles[0] {
		return int(c.Triangles[0]) - int(d.Triangles[0])
	}
	return int(c.Triangles[1]) - int(d.Triangles[1])
}
