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

// Common practice, mm: guesses until logged.
const (
	spare      = 1.0  // round a component
	clear      = 2.0  // between a bay and whatever is there
	alongStep  = 5.0  // of the grid that is looked over, along the axis
	roundSteps = 24   // and round it
	turnPitch  = 14.0 // between turns of a strip: its width and a gap
	slackShare = 0.15 // of a way's length
	slackLoop  = 100.0
	cable      = 5.0  // what a lead in its sleeve takes
	passWide   = 14.0 // a hole that a plug goes through
	passLeast  = 6.0  // one that lets three thin wires through
	passEdge   = 6.0  // of material that a hole leaves on either side

	fingersFar = 100.0 // behind an opening that fingers reach
	armFar     = 500.0 // and an arm
	handBroad  = 90.0  // a flat hand that goes in
	handThick  = 55.0
)
