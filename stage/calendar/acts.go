package calendar

import (
	"cmp"
	"slices"

	"scalewright/unit"
)

// Act is what somebody does at one go: load a print, clear it, glue a joint.
type Act struct {
	At      unit.Minutes // from Start, 00:00
	Minutes unit.Minutes
	Do      string
	Who     string
	Task    string
	Piece   string
}

// Acts are the stretches of a plan that take a person's hands, by time.
func Acts(plan Result) []Act {
	var acts []Act
	for _, t := range plan.Tasks {
		for _, s := range t.Steps {
			if s.Name == "run" || s.Name == "cure" {
				continue
			}
			do := t.Name
			if t.Kind == KindPrint {
				do = s.Name + " " + t.Printer + ": " + t.Name
			}
			acts = append(acts, Act{At: s.From, Minutes: s.To - s.From, Do: do, Who: t.Who, Task: t.ID, Piece: t.Piece})
		}
	}
	slices.SortStableFunc(acts, func(a, b Act) int { return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.Task, b.Task)) })
	return acts
}
