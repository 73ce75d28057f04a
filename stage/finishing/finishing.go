package finishing

import (
	"context"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Run plans the finish; a build that is left as printed needs none.
func Run(_ context.Context, in Input) (model.Finishing, finding.List, error) {
	out := model.Finishing{Rate: 1}
	if in.Finish.Grade == model.Unfinished || in.Finish.Grade == "" {
		return out, in.unplanned(), nil
	}
	surfaces := in.Surfaces
	out.Surfaces = surfaces
	r := work{Input: in, rate: 1}
	r.plan(surfaces)
	if rate, ok := learned(r.tasks, in.Took); ok {
		r = work{Input: in, rate: rate}
		r.plan(surfaces)
		out.Rate = rate
	}
	out.Routes, out.Tasks = r.routes, r.tasks
	for _, route := range out.Routes {
		out.Cycles, out.Film = max(out.Cycles, route.Cycles), max(out.Film, route.Film)
	}
	for _, t := range out.Tasks {
		out.Bench += t.Bench
	}
	r.needs(&out)
	out.Masks = in.masks()
	return out, in.found(out), nil
}

// learned is how the minutes logged for sanding compare with those estimated.
func learned(tasks []model.Task, took map[string]unit.Minutes) (float64, bool) {
	logged, estimated := 0.0, 0.0
	for _, t := range tasks {
		if minutes, ok := took[t.ID]; ok && t.Kind == model.Sand && minutes > 0 {
			logged, estimated = logged+float64(minutes), estimated+float64(t.Bench)
		}
	}
	if estimated == 0 {
		return 1, false
	}
	return logged / estimated, true
}
