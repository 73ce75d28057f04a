package readings

import (
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Input is what is known of the reference from two sides.
type Input struct {
	Trace    model.Trace
	Readings []Reading
	// LengthRead says that the whole length was read and weighed before: then it is not
	// proposed again.
	LengthRead bool
}

// Kind says what was read.
type Kind string

// Kinds of reading.
const (
	Diameter Kind = "diameter"
	Length   Kind = "length"
)

// Reading is one reading of a caliper. U is its standard uncertainty, 0 for that of
// an ordinary caliper in an ordinary hand; Text is what was typed.
type Reading struct {
	At       finding.Place
	Kind     Kind
	X, U     float64
	Text     string
	Station  float64 // of a diameter
	From, To float64 // of a length, between faces
}

// where is the station that findings point at.
func (r Reading) where() float64 {
	if r.Kind == Length {
		return r.To
	}
	return r.Station
}

// Result is what photograph and readings say together.
type Result struct {
	Trace model.Trace
	Taken []Taken // of Input.Readings, one each
	Next  *Next   // nil where no further reading would help much
	Chi   float64 // weighted sum of squares of what the readings taken lie off
	Count int     // of readings taken
}

// Taken is what became of a reading.
type Taken struct {
	Reading Reading
	U       float64    // as weighed
	Seen    unit.Value // what all else says there
	Off     float64    // how far the two lie apart, in doubts of that
	Used    bool
	Joint   unit.Value // what comes of both
}

// Next is a reading not yet taken that would tell the most.
type Next struct {
	Kind     Kind
	Station  float64
	From, To float64
	// Doubt of the surface, mm of the reference, without the reading and with it:
	// the median over the outline, the noise of single stations apart, and the worst
	// station's.
	Before, After           float64
	WorstBefore, WorstAfter float64
}
