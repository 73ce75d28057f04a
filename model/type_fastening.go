package model

import (
	"scalewright/stock"
	"scalewright/unit"
)

// Fastening is a pin, a screw or a pair of magnets between a guest and its host, in
// the build's frame. Its line leaves the host at At towards Out.
type Fastening struct {
	ID       string
	Mount    string
	Kind     JointKind
	Stock    stock.Fastener
	Long     unit.Length // of a pin or a screw
	Guest    PieceID
	Host     PieceID
	At       [3]float64 // mm, on the host's surface
	Out      [3]float64 // unit vector
	Station  unit.Length
	Clocking float64     // rad, of At
	InHost   unit.Length // the hole's depth in the host, from At
	InGuest  unit.Length // and in the guest; of a screw, where its head's face lies
	Pad      unit.Length // by which the host's wall is thicker inside; 0: it is thick enough
	Half     unit.Length // of the pad's width
	PadSpan  Span        // stations of the pad
	Lug      bool        // the pad carries a guest inside the host, on the face square to the axis
}

// HoleFor says what a hole is for.
type HoleFor string

// Uses of holes.
const (
	ForPin    HoleFor = "pin"
	ForShank  HoleFor = "screw passes"
	ForHead   HoleFor = "screw's head"
	ForThread HoleFor = "screw holds"
	ForMagnet HoleFor = "magnet"
)

// Hole is a printed hole of a fastening or of a panel's screws: the diameter that
// must come out, and what to print for it.
type Hole struct {
	Of    string // the fastening's mount, or the opening
	Piece string
	For   HoleFor
	Stock string      // of the table of fasteners
	Takes unit.Length // the thing's own diameter, at its largest
	Wants unit.Length
	Size  Size
	Bind  float64 // chance that what goes in does not, unsanded
}

// Hole of a joint in a piece; false where there is none.
func (f Fits) Hole(of string, piece PieceID, use HoleFor) (Hole, bool) {
	for _, h := range f.Holes {
		if h.Of == of && h.Piece == piece.String() && h.For == use {
			return h, true
		}
	}
	return Hole{}, false
}
