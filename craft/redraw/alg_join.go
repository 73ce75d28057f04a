package redraw

import (
	"math"

	"scalewright/model"
)

// Join draws an outline anew on carriers that were moved, one a segment of the old
// one. Corners are where neighbours cross near the old corner, at most reach mm
// from it; where they do not cross there, the old station stays and a step stands
// between them. The ends keep their stations, and a tip stays on the axis. False
// where what comes out can't be turned: then the old outline stands.
func Join(old model.Outline, moved []Carrier, reach float64) (model.Outline, bool) {
	if len(old) == 0 || len(old) != len(moved) {
		return old, false
	}
	var out model.Outline
	from := end(old[0].From, moved[0])
	for i, s := range old {
		to := end(s.To, moved[i])
		next := to
		if i < len(old)-1 {
			to, next = corner(moved[i], moved[i+1], s.To, reach)
		}
		if to != from {
			out = append(out, moved[i].between(from, to))
			from = to
		}
		if i < len(old)-1 && next != from {
			out = append(out, Through(from, next).between(from, next))
			from = next
		}
	}
	if trouble, _ := out.Trouble(); trouble != "" {
		return old, false
	}
	return out, true
}

// end is where the first or the last carrier ends: at the old station.
func end(old model.Point, c Carrier) model.Point {
	if old.Radius == 0 {
		return old
	}
	p, ok := c.at(old.Station, old)
	if !ok || p.Radius <= 0 {
		return old
	}
	return p
}

// corner is where one carrier ends and the next begins.
func corner(a, b Carrier, old model.Point, reach float64) (to, next model.Point) {
	if p, ok := Cross(a, b, old); ok && apart(p, old) <= reach && p.Radius >= 0 {
		return p, p
	}
	p, okA := a.at(old.Station, old)
	q, okB := b.at(old.Station, old)
	switch {
	case !okA && !okB:
		return old, old
	case !okA:
		return q, q
	case !okB:
		return p, p
	}
	p.Radius, q.Radius = max(0, p.Radius), max(0, q.Radius)
	return p, q
}

// between is the segment from place to place on a carrier. An arc's centre is moved
// along the bisector of its chord so that both ends lie on it.
func (c Carrier) between(from, to model.Point) model.Segment {
	s := model.Segment{Kind: model.Line, From: from, To: to}
	if c.Kind != model.Arc {
		return s
	}
	chord := apart(from, to)
	mx, my := (from.Station+to.Station)/2, (from.Radius+to.Radius)/2
	nx, ny := -(to.Radius-from.Radius)/chord, (to.Station-from.Station)/chord
	r := max(c.R, chord/2)
	h := math.Sqrt(max(0, r*r-chord*chord/4))
	if float64((c.Centre.Station-mx)*nx)+float64((c.Centre.Radius-my)*ny) < 0 {
		h = -h
	}
	s.Kind, s.R = model.Arc, r
	s.Centre = model.Point{Station: mx + float64(h*nx), Radius: my + float64(h*ny)}
	return s
}
