package model

import "scalewright/stock"

// JointKind is how two faces are held together: a kind of the table stock/joints.csv.
type JointKind string

// Kinds of joint that a stage chooses or makes in a way of its own.
const (
	Butt     JointKind = "butt"
	Spigot   JointKind = "spigot and socket"
	Collar   JointKind = "collar"
	Tongue   JointKind = "tongue"   // through a slot in the host
	Dowelled JointKind = "dowelled" // on pins
	Screwed  JointKind = "screwed"
	Magnet   JointKind = "magnet"
)

// Male is what of a joint goes into the other side.
func (k JointKind) Male() stock.Male {
	j, ok := stock.FindJoint(string(k))
	if !ok {
		return stock.NoMale
	}
	return j.Male
}

// Male is what of a seam goes into the other side.
func (s Seam) Male() stock.Male { return s.Kind.Male() }

// Flat reports whether nothing goes into anything at a seam.
func (s Seam) Flat() bool { return s.Male() == stock.NoMale }

// Stands reports whether a spigot stands out of a piece at a seam.
func (s Seam) Stands(p PieceID) bool {
	return s.Below == p && s.Male() == stock.MaleBelow || s.Above == p && s.Male() == stock.MaleAbove
}

// Takes reports whether a piece has a socket at a seam.
func (s Seam) Takes(p PieceID) bool {
	return !s.Flat() && (s.Below == p || s.Above == p) && !s.Stands(p)
}

// Rests reports whether a core ring lies at the end of what goes in at a seam, in
// the same socket.
func (s Seam) Rests(ring Seat) bool {
	switch s.Male() {
	case stock.NoMale:
		return false
	case stock.MaleAbove:
		return ring.Host == s.Below && ring.Span.To == s.Station-s.Engage
	}
	return ring.Host == s.Above && ring.Span.From == s.Station+s.Engage
}
