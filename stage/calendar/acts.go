package calendar

import (
	"cmp"
	"slices"
)

// Act is what somebody does at one go: load a print, clear it, glue a joint.
type Act struct {
	Task Task
	Step Step
	Then *Step // what goes on by itself once hands are off; nil: nothing
}

// Acts are the steps of a plan that take a person's hands, by time.
func Acts(plan Result) []Act {
	var acts []Act
	for _, t := range plan.Tasks {
		for k, s := range t.Steps {
			if s.ByItself() {
				continue
			}
			a := Act{Task: t, Step: s}
			if k+1 < len(t.Steps) && t.Steps[k+1].ByItself() {
				a.Then = &t.Steps[k+1]
			}
			acts = append(acts, a)
		}
	}
	slices.SortStableFunc(acts, func(a, b Act) int {
		return cmp.Or(cmp.Compare(a.Step.From, b.Step.From), cmp.Compare(a.Task.ID, b.Task.ID))
	})
	return acts
}
