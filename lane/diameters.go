package lane

import (
	"math"
	"slices"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// measured is a diameter worth a dimension: a cylinder of the profile.
type measured struct {
	from, to float64
	radius   float64
}

// Of the build's length, the shortest cylinder that gets its diameter lettered,
// and how many at most.
const (
	leastCylinder = 0.03
	mostDiameters = 5
)

// cylinders are the longest cylinders of the profile, one a diameter.
func cylinders(o model.Outline) []measured {
	var found []measured
	for _, s := range o {
		long := s.To.Station - s.From.Station
		if s.Kind != model.Line || math.Abs(s.To.Radius-s.From.Radius) > 0.02*long || long < leastCylinder*(o.End()-o.Start()) {
			continue
		}
		m := measured{s.From.Station, s.To.Station, max(s.From.Radius, s.To.Radius)}
		k := slices.IndexFunc(found, func(f measured) bool { return math.Abs(f.radius-m.radius) < 0.5 })
		switch {
		case k < 0:
			found = append(found, m)
		case m.to-m.from > found[k].to-found[k].from:
			found[k] = m
		}
	}
	if len(found) == 0 {
		found = append(found, widest(o))
	}
	slices.SortStableFunc(found, func(a, b measured) int {
		return -int(math.Copysign(1, (a.to-a.from)-(b.to-b.from)))
	})
	return found[:min(len(found), mostDiameters)]
}

// widest is the place of the largest radius, of an outline without cylinders.
func widest(o model.Outline) measured {
	best := model.Point{}
	for _, q := range o.Polyline(chordSag) {
		if q.Radius > best.Radius {
			best = q
		}
	}
	return measured{best.Station, best.Station, best.Radius}
}

// diameters are drawn through the body, clear of the names, and beside it for
// the ends.
func diameters(s *drawing.Scene, p plot, r job.Result, v View, names []drawing.Rect) {
	o := r.Design.Outline
	taken := slices.Clone(names)
	for n, c := range cylinders(o) {
		text := "⌀ " + v.System.Figure(unit.Length(2*c.radius))
		x, ok := clearOf(taken, p.at(c.from, 0).X, p.at(c.to, 0).X)
		if !ok || 2*c.radius*p.scale < drawing.Measure(text, drawing.Italic, drawing.SizeFigure)+8 {
			continue
		}
		taken = append(taken, drawing.Rect{X: x - 3, Y: 0, W: 6, H: 1})
		station := (x - p.origin.X) / p.scale
		s.Dimension(drawing.Dimension{
			ID: numbered("across", n), Axis: drawing.Vertical, At: x,
			From: p.at(station, c.radius), To: p.at(station, -c.radius),
			Text: text, Owner: drawing.Reference, NoExtension: true, Title: "diameter " + text,
		})
	}
	endDiameter(s, p, v, o.Start(), o.RadiusAt(o.Start()), -9)
	endDiameter(s, p, v, o.End(), o.RadiusAt(o.End()), 9)
}

// endDiameter is dimensioned off the end of the body.
func endDiameter(s *drawing.Scene, p plot, v View, station, radius, off float64) {
	text := "⌀ " + v.System.Figure(unit.Length(2*radius))
	if 2*radius*p.scale < drawing.Measure(text, drawing.Italic, drawing.SizeFigure)+6 {
		return // a rounded tip, or too small to letter
	}
	a := p.at(station, radius)
	s.Dimension(drawing.Dimension{
		ID: numbered("end", int(off)+10), Axis: drawing.Vertical, At: a.X + off,
		From: a, To: p.at(station, -radius), Text: text, Owner: drawing.Reference, Title: "diameter " + text,
	})
}

// clearOf looks for a place across a stretch of paper where a dimension line
// crosses no words, the middle last: there the names stand.
func clearOf(taken []drawing.Rect, from, to float64) (float64, bool) {
	for _, share := range [...]float64{0.25, 0.75, 0.15, 0.85, 0.35, 0.65, 0.5, 0.08, 0.92, 0.42, 0.58} {
		x := from + share*(to-from)
		free := true
		for _, t := range taken {
			free = free && (x+3.2 < t.X || x-3.2 > t.X+t.W)
		}
		if free {
			return x, true
		}
	}
	return 0, false
}
