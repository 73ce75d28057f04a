package model

import (
	"scalewright/finding"
	"scalewright/unit"
)

// DeclaredReading is a reading of a caliper as written: a diameter at a station, or a
// length between two faces.
type DeclaredReading struct {
	At       finding.Place
	Diameter unit.Dim
	Station  unit.Dim // of a diameter
	Length   unit.Dim
	From, To unit.Dim // of a length
}
