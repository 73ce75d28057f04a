package measure

import (
	"cmp"
	"math"
	"slices"

	"scalewright/model"
)

// meetMM is how far a drawn line's end may be moved to meet a typed outline, mm:
// twice a caliper's and a profile's usual doubt together. Past it there is a step.
const meetMM = 0.3

// outlineOf puts each typed outline in its place in the one that was seen, as it was
// typed, corners and all.
func outlineOf(seen model.Outline, stretches []Hidden) model.Outline {
	typed := slices.DeleteFunc(slices.Clone(stretches), func(h Hidden) bool { return len(h.Typed) == 0 })
	if len(typed) == 0 || len(seen) == 0 {
		return seen
	}
	slices.SortStableFunc(typed, func(a, b Hidden) int { return cmp.Compare(a.From, b.From) })
	var out model.Outline
	from := seen.Start()
	for _, h := range typed {
		if h.From > seen.End() {
			break
		}
		out = follow(out, seen.Between(from, h.From))
		given := h.Typed.Between(h.From, h.To)
		if len(out) > 0 && len(given) > 0 {
			out = reach(out, given[0].From)
		}
		out = append(out, given...)
		from = h.To
	}
	if from >= seen.End() {
		return out
	}
	return follow(out, seen.Between(from, seen.End()))
}

// follow sets a seen outline behind a typed one that ends before it.
func follow(before, seen model.Outline) model.Outline {
	if len(before) == 0 || len(seen) == 0 {
		return append(before, seen...)
	}
	end := before[len(before)-1].To
	first := seen[0]
	begin := model.Point{Station: end.Station, Radius: first.From.Radius}
	if first.Kind == model.Line && first.To.Station > first.From.Station {
		slope := (first.To.Radius - first.From.Radius) / (first.To.Station - first.From.Station)
		begin.Radius -= slope * (first.From.Station - end.Station)
		if math.Abs(begin.Radius-end.Radius) <= meetMM {
			begin = end
		}
		seen[0].From = begin
	} else {
		seen = append(model.Outline{{Kind: model.Line, From: begin, To: first.From}}, seen...)
	}
	if begin != end {
		before = append(before, model.Segment{Kind: model.Line, From: end, To: begin})
	}
	return append(before, seen...)
}

// reach runs a seen outline on to where a typed one begins.
func reach(seen model.Outline, begin model.Point) model.Outline {
	last := &seen[len(seen)-1]
	if last.Kind == model.Line && last.To.Station > last.From.Station {
		slope := (last.To.Radius - last.From.Radius) / (last.To.Station - last.From.Station)
		last.To = model.Point{Station: begin.Station, Radius: last.To.Radius + slope*(begin.Station-last.To.Station)}
		if math.Abs(last.To.Radius-begin.Radius) <= meetMM {
			last.To = begin
		}
	} else if end := last.To; end.Station < begin.Station {
		seen = append(seen, model.Segment{Kind: model.Line, From: end, To: model.Point{Station: begin.Station, Radius: end.Radius}})
	}
	if end := seen[len(seen)-1].To; end != begin {
		seen = append(seen, model.Segment{Kind: model.Line, From: end, To: begin})
	}
	return seen
}
