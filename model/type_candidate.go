package model

import (
	"strings"

	"scalewright/finding"
	"scalewright/unit"
)

// Why a ratio is worth weighing.
const (
	BecauseDeclared = "declared"
	BecauseRound    = "round"   // a whole number
	BecauseStock    = "stock"   // a cylinder comes out as a stock pipe
	BecausePrinter  = "printer" // the widest place just goes on
	BecauseCore     = "core"    // it just goes through
)

// Proposal is a ratio worth weighing, and why.
type Proposal struct {
	Ratio   float64
	Because string
	What    string // the stock, printer or part that it comes from
}

// StockGap is a feature of the reference that comes out near to a stock pipe's
// outside.
type StockGap struct {
	Feature string      // "cylinder at 30 to 112 mm of the reference"
	Stock   string      // a pipe's id
	Gap     unit.Length // feature less pipe, on the diameter
}

// WayIn is how a build comes through the doors and lifts on its way.
type WayIn string

// Ways in.
const (
	WayUnknown WayIn = ""      // no way is declared, or something stood in the way of knowing
	WayWhole   WayIn = "whole" // off its stand
	WayApart   WayIn = "apart" // taken apart where it comes apart
	WayNone    WayIn = "none"
)

// Candidate is a ratio with what it would take.
type Candidate struct {
	Proposal
	Length     unit.Length
	Pieces     int
	Hours      float64
	BenchHours float64
	Mass       unit.Mass
	Cost       float64
	Spools     int     // to be bought
	Together   float64 // chance that all goes together as printed
	WayIn      WayIn
	Narrow     string // the door or lift that is too small, where one is
	Likely     string // dates
	Safe       string
	Stock      []StockGap
	Blocked    string          // code of the finding that stands in the way; empty: none
	Obstacle   finding.Finding // that one
	Best       []string        // what it is the best of
}

// Reason is in words why a ratio is there, and what it is the best of.
func (c Candidate) Reason() string {
	words := map[string]string{
		BecauseDeclared: "as declared", BecauseRound: "a round ratio", BecauseStock: "a cylinder comes out as " + c.What,
		BecausePrinter: "the widest that " + c.What + " takes", BecauseCore: "the least that " + c.What + " goes through",
	}[c.Because]
	return strings.Join(append([]string{words}, c.Best...), ", ")
}
