package testslice

import (
	"scalewright/model"
	"scalewright/unit"
)

// Input is what is made, and which piece comes first.
type Input struct {
	Now    string // id of the piece to print now; empty: none yet
	Pieces []model.Piece
	Carved []model.Carved // of Pieces, in their order
	Prints []model.Print  // of Pieces, in their order
	Seams  []model.Seam   // by station
	Fits   []model.Fit
}

// Result is the slice; nil where no joint has sizes.
type Result struct{ Slice *model.TestSlice }

// How long a side is, mm: common practice.
const (
	least = 8 * unit.Millimetre
	most  = 15 * unit.Millimetre
)
