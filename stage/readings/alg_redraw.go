package readings

import (
	"scalewright/craft/redraw"
	"scalewright/model"
)

// A corner moves at most so far, mm of the reference, when readings are taken in:
// past that, what crosses there is not the corner that was seen.
const mostMoved = 3.0

// redraw moves lines and arcs as their unknowns say, each read clear of its corners,
// and makes the corners again; false where they don't join.
func (j *joining) redraw(p posterior, move func(float64) float64) (model.Outline, bool) {
	old := j.trace.Outline
	shifted := make(model.Outline, len(old))
	moved := make([]redraw.Carrier, len(old))
	for i, s := range old {
		at := func(q model.Point, along float64) model.Point {
			return model.Point{Station: along, Radius: q.Radius + dot(j.radiusAt(i, q.Station), p.x)}
		}
		shifted[i] = s
		shifted[i].From.Station, shifted[i].To.Station = move(s.From.Station), move(s.To.Station)
		switch {
		case j.sorts[i].step:
			station := move(s.To.Station) + p.x[j.sorts[i].column]*j.stepDoubt(i)
			shifted[i].From.Station, shifted[i].To.Station = station, station
			moved[i] = redraw.Carrier{Kind: model.Line, P: model.Point{Station: station}, Dir: model.Point{Radius: 1}}
		case s.Kind == model.Arc:
			var q [3]model.Point
			for k, share := range [3]float64{1. / 6, 1. / 2, 5. / 6} {
				station := s.From.Station + share*(s.To.Station-s.From.Station)
				q[k] = at(model.Point{Station: station, Radius: radiusOf(s, station)}, move(station))
			}
			c, ok := redraw.Circle(q[0], q[1], q[2])
			if !ok {
				c = redraw.Of(s)
			}
			moved[i] = c
		default:
			var q [2]model.Point
			for k, share := range [2]float64{1. / 4, 3. / 4} {
				station := s.From.Station + share*(s.To.Station-s.From.Station)
				q[k] = at(model.Point{Station: station, Radius: radiusOf(s, station)}, move(station))
			}
			moved[i] = redraw.Through(q[0], q[1])
		}
	}
	far := move(old.End()) + p.x[j.faces[len(j.faces)-1].column]*j.faces[len(j.faces)-1].u
	shifted[len(shifted)-1].To.Station = far
	if j.sorts[len(shifted)-1].step {
		shifted[len(shifted)-1].From.Station = far
	}
	return redraw.Join(shifted, moved, mostMoved)
}

// stepDoubt is how wide the unknown of a step is, mm.
func (u *unknowns) stepDoubt(segment int) float64 {
	for _, f := range u.faces {
		if f.column == u.sorts[segment].column {
			return f.u
		}
	}
	return 0
}
