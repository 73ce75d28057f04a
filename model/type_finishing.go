package model

import "scalewright/unit"

// Surface is the outside of a piece and how rough it comes off the printer.
type Surface struct {
	Piece PieceID
	Area  float64     // mm² that are seen once all is together
	Depth unit.Length // that 95 hundredths of it do not exceed
	Mean  unit.Length // over the area
}

// Mask is what must stay free of paint, and why.
type Mask struct {
	What string
	Why  string
}

// Need is a material and how much of it.
type Need struct {
	Coating string // of the table of coatings
	Units   int
	Area    float64 // m² times coats
}

// Finishing is the route to the finished surface.
type Finishing struct {
	Surfaces []Surface // of finished pieces, in the division's order
	Cycles   int       // of priming and sanding
	Tasks    []Task
	Needs    []Need
	Film     unit.Length // that all coats add to a face
	Masks    []Mask
	Bench    unit.Minutes
	Rate     float64 // hours as logged over hours as estimated; 1 until logged
}
