package finishing

import (
	"context"
	"math"

	"scalewright/craft/surface"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// Run plans the finish; a build that is left as printed needs none.
func Run(ctx context.Context, in Input) (model.Finishing, finding.List, error) {
	out := model.Finishing{Rate: 1}
	if in.Finish.Grade == model.Unfinished || in.Finish.Grade == "" {
		return out, nil, nil
	}
	surfaces, err := in.surfaces(ctx)
	if err != nil {
		return out, nil, err
	}
	out.Surfaces = surfaces
	deepest := 0.0
	for _, s := range surfaces {
		deepest = max(deepest, float64(s.Depth))
	}
	out.Cycles = surface.Cycles(deepest, limits[in.Finish.Grade], taken)
	r := route{Input: in, cycles: out.Cycles, rate: 1}
	r.plan(surfaces)
	if rate, ok := learned(r.tasks, in.Took); ok {
		r = route{Input: in, cycles: out.Cycles, rate: rate}
		r.plan(surfaces)
		out.Rate = rate
	}
	out.Tasks = r.tasks
	for _, t := range out.Tasks {
		out.Bench += t.Bench
	}
	out.Needs = r.needs(surfaces)
	out.Film = r.film()
	out.Masks = in.masks()
	return out, nil, nil
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

// film is what all coats add to a face: half of the primer is sanded off again.
func (r route) film() unit.Length {
	primer := stock.MustCoating("primer").Film * unit.Length(r.cycles) * passes / 2
	colour := stock.MustCoating("colour").Film * unit.Length(r.Finish.Colour)
	clear := stock.MustCoating("clear").Film * unit.Length(r.Finish.Clear)
	return primer + colour + clear
}

// passes of the can that one priming is.
const passes = 3

// needs are cans and tubes for all that is seen.
func (r route) needs(surfaces []model.Surface) []model.Need {
	area, steps := 0.0, 0.0
	for _, s := range surfaces {
		area += s.Area / square
		steps += s.Area * float64(s.Mean) / 2 / 1000 // ml: half the depth, as triangles are
	}
	seams := 0.0
	for _, s := range r.Division.Seams {
		seams += r.seamLength(s) / 1000
	}
	var out []model.Need
	add := func(id string, times int) {
		c := stock.MustCoating(id)
		if done := area * float64(times); done > 0 {
			out = append(out, model.Need{Coating: id, Area: done, Units: int(math.Ceil(done / c.Covers))})
		}
	}
	if area > 0 {
		out = append(out, model.Need{Coating: "putty", Area: area, Units: int(math.Ceil((seams*seamPutty + steps*puttied) / tube))})
	}
	add("primer", r.cycles)
	add("colour", r.Finish.Colour)
	add("clear", r.Finish.Clear)
	return out
}

// puttied is the share of the stairs that putty fills; primer fills the rest.
const puttied = 0.1
