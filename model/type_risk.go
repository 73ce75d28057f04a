package model

import "scalewright/finding"

// Risk is something that may go wrong although nothing is wrong yet: what it is
// and its cure, the chance that it happens, and the hours it then costs.
type Risk struct {
	What   finding.Finding
	Chance float64
	Hours  float64
}

// Expected is chance times hours.
func (r Risk) Expected() float64 { return r.Chance * r.Hours }
