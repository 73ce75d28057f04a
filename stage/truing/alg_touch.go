package truing

import (
	"math"

	"scalewright/craft/redraw"
	"scalewright/model"
)

// Neighbours that meet at a smaller angle than this may be meant to touch: 10°.
const nearlyTangent = 0.175

// touch moves the centre of an arc so that it touches the neighbours that it nearly
// does, its radius as measured, and says how many doubts that is.
func (t *trued) touch(i int) float64 {
	arc := t.moved[i]
	off := 0.0
	var lines []redraw.Carrier
	for _, j := range [2]int{i - 1, i + 1} {
		if j < 0 || j >= len(t.old) || t.old[j].Kind != model.Line {
			continue
		}
		if angle, u := t.angle(min(i, j)); math.Abs(angle) < nearlyTangent {
			lines = append(lines, t.moved[j])
			off = max(off, ratio(angle, u))
		}
	}
	for _, l := range lines[:min(1, len(lines))] {
		arc.Centre = beside(l, arc.Centre, arc.R)
	}
	if len(lines) == 2 {
		// Touching both lines: the centre lies where the two, moved by the radius, cross.
		a, b := shifted(lines[0], t.old[i].Centre, arc.R), shifted(lines[1], t.old[i].Centre, arc.R)
		if c, ok := redraw.Cross(a, b, t.old[i].Centre); ok {
			arc.Centre = c
		}
	}
	t.moved[i] = arc
	return off
}

// angle is the turn at the corner behind a segment, and its doubt, rad.
func (t *trued) angle(i int) (turn, u float64) {
	a, b := t.old[i], t.old[i+1]
	turn = math.Remainder(slopeAt(b, b.From)-slopeAt(a, a.To), 2*math.Pi)
	square := 0.0
	for _, j := range [2]int{i, i + 1} {
		switch s := t.old[j]; {
		case s.Kind == model.Arc:
			// An arc's end turns by four times the noise of its middle over its length: the
			// slope at the end of a parabola through three places.
			e := 4 * t.est[j].radius.Independent() / length(s)
			square += e * e
		case !step(s):
			square += t.est[j].slope.U * t.est[j].slope.U
		}
	}
	return turn, math.Sqrt(square)
}

// beside is the place at a distance from a line, on the side of another place and
// straight across from it.
func beside(l redraw.Carrier, p model.Point, by float64) model.Point {
	nx, ny := -l.Dir.Radius, l.Dir.Station
	off := float64((p.Station-l.P.Station)*nx) + float64((p.Radius-l.P.Radius)*ny)
	if off < 0 {
		by = -by
	}
	return model.Point{Station: p.Station + float64((by-off)*nx), Radius: p.Radius + float64((by-off)*ny)}
}

// shifted is a line moved by a distance to the side of a place.
func shifted(l redraw.Carrier, to model.Point, by float64) redraw.Carrier {
	nx, ny := -l.Dir.Radius, l.Dir.Station
	if float64((to.Station-l.P.Station)*nx)+float64((to.Radius-l.P.Radius)*ny) < 0 {
		by = -by
	}
	l.P = model.Point{Station: l.P.Station + float64(by*nx), Radius: l.P.Radius + float64(by*ny)}
	return l
}
