package model

import (
	"scalewright/finding"
	"scalewright/unit"
)

// Truth is what may be true of a segment of an outline although it was measured a
// little otherwise.
type Truth string

// Truths.
const (
	Parallel  Truth = "parallel"  // to the axis
	NoDraft   Truth = "no-draft"  // parallel once the draft of a moulding is taken off
	Equal     Truth = "equal"     // of one diameter with another, both parallel
	SquareTo  Truth = "square"    // a face square to the axis
	Tangent   Truth = "tangent"   // an arc to its neighbours
	Symmetric Truth = "symmetric" // the far half to the near one
	AsIs      Truth = "measured"  // whatever else is declared
)

// DeclaredTrue is what is to be true of the reference's outline, as written.
type DeclaredTrue struct {
	At        finding.Place
	Segments  []DeclaredTruth
	Symmetric bool
	Crisp     unit.Dim // edges softer than this become crisp; unwritten: none
	Edge      unit.Dim // of the shop: what a crisp edge gets; unwritten: sharp
	Chamfered bool     // the edge is a chamfer, not a radius
}

// Nothing reports whether nothing is declared.
func (d DeclaredTrue) Nothing() bool {
	return len(d.Segments) == 0 && !d.Symmetric && !d.Crisp.Written()
}

// DeclaredTruth is a truth of the segment at a station.
type DeclaredTruth struct {
	At      finding.Place
	Station unit.Dim
	Is      Truth
	To      unit.Dim // of what is equal: the station of the other
	Across  unit.Dim // of what is parallel: its diameter
}
