package truing

import (
	"scalewright/model"
	"scalewright/unit"
)

// Input is an outline and what is to be true of it.
type Input struct {
	Trace model.Trace
	Ratio float64
	True  model.DeclaredTrue
}

// Result is the outline trued, and what might be.
type Result struct {
	Trace    model.Trace   // its outline trued; the profile as measured
	Measured model.Outline // as it came
	Moved    []Moved       // segments of Measured that were trued
	Edges    []Edge        // that were made crisp
	// Most is how far the two outlines lie apart at most, full size, and where.
	Most unit.Length
	At   unit.Length
	// Holds are truths that the measurements keep and nobody declared; Rounds are
	// values that look like round ones. Neither changes anything.
	Holds  []Hold
	Rounds []Round
}

// Moved is a segment that was trued.
type Moved struct {
	Truth    model.Truth
	Segment  int // of the outline without its soft edges
	From, To float64
	By       unit.Length // at full size
	Doubts   float64     // how many of its doubts that is
}

// Edge is a soft edge that was made crisp.
type Edge struct {
	Station float64
	Size    float64     // radius or chamfer as measured
	By      unit.Length // how far the surface moves, full size
}

// Hold is a truth that the measurements keep.
type Hold struct {
	Truth   model.Truth
	Station float64
	Other   float64 // of what is equal or tangent to it
	P       float64 // chance that what is true lies so far off or farther
	Chance  float64 // chance that what is not would keep it too
}

// Round is a value that looks like a round one.
type Round struct {
	What    string // "diameter" or "length"
	Station float64
	Value   unit.Value
	Round   float64 // mm
	Reads   string  // as a rule shows it: "12.5 mm", "1/2 in"
	Times   float64 // likelier than any value between the round one's neighbours
}
