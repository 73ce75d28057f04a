package solid

import "math"

// EdgeKind says why an edge is drawn.
type EdgeKind uint8

// The kinds of edge, the first that holds counting.
const (
	// Boundary: the mesh is open there, or has more than two triangles.
	Boundary EdgeKind = iota + 1
	// SectionEdge: the rim of what a section plane cut.
	SectionEdge
	// Silhouette: one face looks at the eye and the other doesn't.
	Silhouette
	// Crease: the surface turns by more than [View.Crease].
	Crease
	// Intersection: the surfaces of two solids pass through each other.
	Intersection
)

var edgeKindNames = [...]string{
	Boundary: "boundary", SectionEdge: "section", Silhouette: "silhouette", Crease: "crease", Intersection: "intersection",
}

// String returns the kind in a word.
func (k EdgeKind) String() string {
	if k == 0 || int(k) >= len(edgeKindNames) {
		return "none"
	}
	return edgeKindNames[k]
}

// Polyline is a row of edges of one kind of one solid, all seen or all hidden. It
// is closed where its last point equals its first.
type Polyline struct {
	Solid string // ID of the solid
	Other string // of an intersection, the ID of the other solid; else empty
	Kind  EdgeKind
	// Hidden: something lies in front of it.
	Hidden bool
	Points []Point
	// Depths[i] is how far Points[i] lies towards the eye, from the origin.
	Depths []float64
}

// Length returns the length on the paper.
func (l Polyline) Length() float64 {
	var s sum
	for i := 1; i < len(l.Points); i++ {
		s.add(dist2(l.Points[i-1], l.Points[i]))
	}
	return s.value()
}

// CutFace is where a section plane cuts a solid, as it is seen: regions to hatch.
type CutFace struct {
	Solid   string
	Regions []Region
}

// Projection is what is seen of solids, in coordinates of the paper: x to the
// right, y up, full size, the origin of space at 0.
type Projection struct {
	// Frame are the axes of the paper; Frame.Lift and the depth along Frame.N lead
	// back into space.
	Frame Frame
	// Lines are ordered by solid, kind, visible before hidden, then by the mesh.
	Lines []Polyline
	// Cuts are the faces of the section, in the order of the solids.
	Cuts []CutFace
}

// Visible returns the lines that are seen. They share their points with p.
func (p Projection) Visible() []Polyline { return p.those(false) }

// Hidden returns the lines that are not. They share their points with p.
func (p Projection) Hidden() []Polyline { return p.those(true) }

func (p Projection) those(hidden bool) []Polyline {
	var out []Polyline
	for _, l := range p.Lines {
		if l.Hidden == hidden {
			out = append(out, l)
		}
	}
	return out
}

// Length returns the summed lengths on the paper, of what is seen and what is
// hidden.
func (p Projection) Length() (visible, hidden float64) {
	var s [2]sum
	for _, l := range p.Lines {
		i := 0
		if l.Hidden {
			i = 1
		}
		s[i].add(l.Length())
	}
	return s[0].value(), s[1].value()
}

// Bounds returns the least rectangle around all lines; false where there is none.
func (p Projection) Bounds() (low, high Point, ok bool) {
	low, high = Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, l := range p.Lines {
		for _, q := range l.Points {
			low = Point{min(low[0], q[0]), min(low[1], q[1])}
			high = Point{max(high[0], q[0]), max(high[1], q[1])}
			ok = true
		}
	}
	if !ok {
		return Point{}, Point{}, false
	}
	return low, high, true
}
