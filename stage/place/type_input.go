package place

import (
	"scalewright/model"
)

// Input is what there is room in, and what needs it.
type Input struct {
	Design   model.Design
	Raw      []model.Raw // of Design.Parts, in their order
	Division model.Division
}

// Common practice, mm.
const (
	spare       = 1.0  // round a component
	clear       = 2.0  // between a bay and whatever is there
	alongStep   = 5.0  // of the grid that is looked over, along the axis
	roundSteps  = 24   // and round it
	turnPitch   = 14.0 // between turns of a strip: its width and a gap
	slackShare  = 0.15 // of a way's length
	slackLoop   = 100.0
	passWide    = 14.0 // a hole in a ring that a plug goes through
	passEdge    = 6.0  // of material that it leaves
	tongueStand = 6.0  // a tongue stands inside the wall, glue included
)
