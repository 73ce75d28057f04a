package foresee

import (
	"scalewright/model"
)

// Input is what has been decided and found.
type Input struct {
	Parts    []model.Part
	Pieces   []model.Piece
	Prints   []model.Print // of Pieces, in their order
	Fits     []model.Fit
	Error    model.ErrorAt // largest doubt of the reference at full size
	Outline  model.Outline // of the body at full size
	Printed  []string      // pieces that are printed
	Failures int           // prints that the log calls failed
	Hours    float64       // of prints that the log calls printed
}

// Result is the risks, worst first.
type Result = []model.Risk

// Common practice, each a guess until logged.
const (
	failedBefore = 3.0   // prints, in
	hoursBefore  = 200.0 // hours of printing
	lostShare    = 0.5   // a print fails half way, on the average
	easeHours    = 0.75  // to sand a joint until it goes together
	shimHours    = 0.5   // to build a loose joint up
	lipFelt      = 0.3   // mm on the radius that a finger and a lamp find
	lipHours     = 0.8   // to fill and sand a lip all round
	seenShare    = 0.01  // of the diameter: an error that an audience sees
	leastChance  = 0.001 // less is not worth a word
)
