package model

import "scalewright/finding"

// Grade says from where a finished surface is looked at.
type Grade string

// Grades of a finish.
const (
	Unfinished Grade = "none"  // as printed
	StageGrade Grade = "stage" // across a room
	ArmGrade   Grade = "arm"   // at arm's length
	CloseGrade Grade = "close" // through a camera
)

// Finish is how the outside is to look.
type Finish struct {
	At     finding.Place
	Grade  Grade
	Colour int // coats of colour
	Clear  int // coats of clear
}
