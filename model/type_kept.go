package model

import "scalewright/unit"

// Kept is what made/ holds of a released piece: a fact, whatever the build says
// now.
type Kept struct {
	Label    string
	Piece    string
	Revision int
	Reach    Span                   // on its own line
	Volume   float64                // mm³; 0: an older release does not say
	Features []string               // as Division.Features; nil: an older release does not say
	Inside   map[string]unit.Length // size where it goes into another, by the fit's seam
	Outside  map[string]unit.Length // size where it takes another
	Damaged  []string               // files that are not there or not as written
}
