package model

import (
	"scalewright/solid"
	"scalewright/unit"
)

// TestSlice is the ends of both sides of a joint, cut from the real pieces, to be
// printed and tried before the pieces are.
type TestSlice struct {
	Seam      string
	Piece     PieceID // for whose sake it is tried
	Clearance unit.Value
	Sides     []SliceSide // what goes in, then what takes it
}

// SliceSide is one side of a test slice, as it stands on the platform: with the
// end down that the piece has down.
type SliceSide struct {
	Piece   PieceID
	Inside  bool // it goes into the other
	Span    Span // stations it is cut from
	Printer string
	Size    Size
	Solid   solid.Mesh
	Minutes unit.Minutes
	Grams   unit.Mass
}
