package lane

import (
	"cmp"
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

// cylinders are the longest cylinders of the profile, one a diameter, and its
// widest place.
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
	if w := widest(o); !slices.ContainsFunc(found, func(f measured) bool { return w.radius-f.radius < 0.5 }) {
		found = append(found, w)
	}
	slices.SortStableFunc(found, func(a, b measured) int { return cmp.Compare(b.to-b.from, a.to-a.from) })
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

// diameters are drawn through the body, and beside it for the ends. It returns
// the stretches taken.
func diameters(s *drawing.Scene, p plot, r job.Result, v View) []stretch {
	o := r.Design.Outline
	var taken []stretch
	lettered := map[string]bool{}
	for n, c := range cylinders(o) {
		text := "⌀ " + v.System.Figure(unit.Length(2*c.radius))
		x, ok := clearOf(taken, lineHalf, p.at(c.from, 0).X, p.at(c.to, 0).X, lineShares[:])
		if !ok || 2*c.radius*p.scale < drawing.Measure(text, drawing.Italic, drawing.SizeFigure)+12 {
			continue
		}
		lettered[text] = true
		taken = append(taken, stretch{x - lineHalf, x + lineHalf})
		station := (x - p.origin.X) / p.scale
		s.Dimension(drawing.Dimension{
			ID: numbered("across", n), Axis: drawing.Vertical, At: x,
			From: p.at(station, c.radius), To: p.at(station, -c.radius),
			Text: text, Owner: drawing.Reference, NoExtension: true, Mark: true, Title: "diameter " + text,
		})
	}
	for k, station := range [...]float64{o.Start(), o.End()} {
		if text := "⌀ " + v.System.Figure(unit.Length(2*o.RadiusAt(station))); !lettered[text] {
			endDiameter(s, p, station, o.RadiusAt(station), text, 2*k-1)
		}
	}
	return taken
}

// lineHalf is half of what a dimension line with its upright figure takes, mm.
const lineHalf = 3.2

// offEnd is how far off an end of the body its diameter is dimensioned, mm.
const offEnd = 8.0

// endDiameter is dimensioned off the foot (side -1) or the nose (side 1).
func endDiameter(s *drawing.Scene, p plot, station, radius float64, text string, side int) {
	if 2*radius*p.scale < drawing.Measure(text, drawing.Italic, drawing.SizeFigure)+10 {
		return // a rounded tip, or too small to letter
	}
	a := p.at(station, radius)
	s.Dimension(drawing.Dimension{
		ID: numbered("end", side+1), Axis: drawing.Vertical, At: a.X + offEnd*float64(side),
		From: a, To: p.at(station, -radius), Text: text, Owner: drawing.Reference, Mark: true, Title: "diameter " + text,
	})
}

// stretch is a stretch of paper along the axis that is lettered already.
type stretch struct{ from, to float64 }

// lineShares are the places across a cylinder tried for its dimension line, the
// middle late: there the names stand.
var lineShares = [...]float64{0.25, 0.75, 0.15, 0.85, 0.35, 0.65, 0.5, 0.08, 0.92, 0.42, 0.58}

// clearOf looks for a place between two where so much to both sides is free.
func clearOf(taken []stretch, half, from, to float64, shares []float64) (float64, bool) {
	for _, share := range shares {
		x := from + share*(to-from)
		free := true
		for _, t := range taken {
			free = free && (x+half < t.from || x-half > t.to)
		}
		if free {
			return x, true
		}
	}
	return 0, false
}
