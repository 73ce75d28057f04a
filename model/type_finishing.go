package model

import "scalewright/unit"

// RoughLimits part the depths that a surface comes off the printer with into
// classes; the last class is all that is deeper.
var RoughLimits = [...]unit.Length{0.05, 0.10, 0.15, 0.20}

// Surface is the outside of a piece and how rough it comes off the printer.
type Surface struct {
	Piece   PieceID
	Area    float64     // mm² that are seen once all is together
	Depth   unit.Length // that 95 hundredths of it do not exceed
	Mean    unit.Length // over the area
	ByDepth []float64   // mm² up to each of RoughLimits, then what is deeper
}

// Mask is what must stay free of paint, and why.
type Mask struct {
	What string
	Why  string
}

// Need is a material and how much of it.
type Need struct {
	Coating string // of the table of coatings
	Grit    int    // of sandpaper
	Units   int
	Area    float64 // m² times coats, or times that it is sanded
	Volume  float64 // ml, of what is spread
	Money   float64 // in Finishing.Currency
}

// Operation is what is done to a group, or to each of its pieces, in one go.
type Operation struct {
	Does  string
	Grit  int // it ends at; 0: nothing is sanded
	Coats int // passes of the can
	Tasks int
	Bench unit.Minutes // of all its tasks
	Dry   unit.Minutes // after each
}

// Route is a group's way from the print to the last coat.
type Route struct {
	Group      string
	Area       float64     // mm² seen
	Depth      unit.Length // of its roughest piece
	Cycles     int         // of priming and sanding
	Film       unit.Length // that all coats add to a face
	Filler     float64     // ml of putty in seams and stairs
	Bench      unit.Minutes
	Operations []Operation
}

// Finishing is the way to the finished surface.
type Finishing struct {
	Surfaces []Surface // of finished pieces, in the division's order
	Routes   []Route   // of the groups that are seen, in the order of the groups
	Cycles   int       // of the group that takes most
	Tasks    []Task
	Needs    []Need
	Money    float64     // of all needs, a guess
	Currency string      // of Money
	Film     unit.Length // most that all coats add to a face
	Masks    []Mask
	Bench    unit.Minutes
	Rate     float64 // hours as logged over hours as estimated; 1 until logged
}
