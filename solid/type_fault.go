package solid

import (
	"fmt"
	"strings"
)

// FaultKind says what is wrong with a mesh.
type FaultKind uint8

// The kinds of fault, in the order [Mesh.Check] looks for them.
const (
	IndexOutOfRange    FaultKind = iota + 1 // a triangle names a vertex that doesn't exist
	NotFinite                               // a coordinate is NaN or infinite
	RepeatedCorner                          // a triangle names one vertex twice
	DegenerateFace                          // the three corners lie exactly on a line
	OpenEdge                                // an edge has one triangle
	CrowdedEdge                             // an edge has more than two triangles
	InconsistentEdge                        // both triangles run the same way along an edge
	PinchedVertex                           // the triangles at a vertex form more than one fan
	InsideOut                               // a component has no positive volume and is no cavity of another
	numberOfFaultKinds = iota
)

var faultNames = [...]string{
	IndexOutOfRange:  "index out of range",
	NotFinite:        "coordinate not finite",
	RepeatedCorner:   "repeated corner",
	DegenerateFace:   "degenerate triangle",
	OpenEdge:         "open edge",
	CrowdedEdge:      "edge of more than two triangles",
	InconsistentEdge: "inconsistent winding",
	PinchedVertex:    "pinched vertex",
	InsideOut:        "component inside out",
}

// String returns the kind in words.
func (k FaultKind) String() string {
	if k == 0 || int(k) >= len(faultNames) {
		return fmt.Sprintf("FaultKind(%d)", uint8(k))
	}
	return faultNames[k]
}

// Fault is one thing wrong with a mesh, and where.
type Fault struct {
	Kind     FaultKind
	Triangle int32    // the first triangle concerned; −1 where it is a vertex alone
	Vertices [2]int32 // the ends of the edge, lower first; or the vertex twice; or −1, −1
	Count    int      // triangles at the edge, fans at the vertex, triangles of the component; else 0
	At       Vec      // the middle of the edge or triangle, or the vertex
}

// String says what is wrong and where.
func (f Fault) String() string {
	at := fmt.Sprintf("(%.6g, %.6g, %.6g)", f.At[0], f.At[1], f.At[2])
	switch f.Kind {
	case IndexOutOfRange:
		return fmt.Sprintf("triangle %d: index out of range (%d)", f.Triangle, f.Vertices[0])
	case NotFinite:
		return fmt.Sprintf("vertex %d: coordinate not finite %s", f.Vertices[0], at)
	case OpenEdge, CrowdedEdge, InconsistentEdge:
		return fmt.Sprintf("edge %d–%d near %s: %s (triangles: %d)", f.Vertices[0], f.Vertices[1], at, f.Kind, f.Count)
	case PinchedVertex:
		return fmt.Sprintf("vertex %d at %s: pinched, %d fans meet", f.Vertices[0], at, f.Count)
	case InsideOut:
		return fmt.Sprintf("component of triangle %d near %s: inside out (triangles: %d)", f.Triangle, at, f.Count)
	default:
		return fmt.Sprintf("triangle %d near %s: %s", f.Triangle, at, f.Kind)
	}
}

// NotSolidError is returned by operations that need a closed mesh and didn't
// get one.
type NotSolidError struct{ Faults []Fault }

// Error names the number of faults of each kind and the first one in full.
func (e *NotSolidError) Error() string {
	var count [numberOfFaultKinds + 1]int
	for _, f := range e.Faults {
		if int(f.Kind) < len(count) {
			count[f.Kind]++
		}
	}
	var parts []string
	for k, n := range count {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%s: %d", FaultKind(k), n))
		}
	}
	if len(e.Faults) == 0 {
		return "mesh is not a closed solid"
	}
	return fmt.Sprintf("mesh is not a closed solid (%s); first: %s", strings.Join(parts, ", "), e.Faults[0])
}

// ValueError is a number an operation can't work with.
type ValueError struct {
	Name  string // the parameter
	Value float64
	Want  string // what it must be
}

// Error says which number is wrong and what it must be.
func (e *ValueError) Error() string {
	return fmt.Sprintf("%s is %g, must be %s", e.Name, e.Value, e.Want)
}
