package model

import "scalewright/unit"

// Proposal is a ratio worth weighing, and why.
type Proposal struct {
	Ratio   float64
	Because string // "declared", "round", "stock", "printer", "core"
	What    string // the stock, printer or part that it comes from
}

// StockGap is a feature of the reference that comes out near to a stock pipe's
// outside.
type StockGap struct {
	Feature string      // "cylinder at 30 to 112 mm of the reference"
	Stock   string      // a pipe's id
	Gap     unit.Length // feature less pipe, on the diameter
}

// Candidate is a ratio with what it would take.
type Candidate struct {
	Proposal
	Length     unit.Length
	Pieces     int
	Hours      float64
	BenchHours float64
	Mass       unit.Mass
	Cost       float64
	Likely     string // dates
	Safe       string
	Stock      []StockGap
	Blocked    string   // code of the finding that stands in the way; empty: none
	Best       []string // what it is the best of
}
