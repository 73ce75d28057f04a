package model

import "math"

// Correction is a place of an outline that the maker put right by hand: a corner that
// lies elsewhere, or an arc that passes elsewhere.
type Correction struct {
	Arc     bool  // of an arc: the middle of it; else a corner
	From    Point // where it had been found, by which it is known again
	To      Point // where it is
	DoubtMM float64
}

// corrigible is how far, mm, a corner or an arc's middle may have moved since it was
// corrected and still be known again: more than a new reading or another photograph
// of the same object moves one, less than most corners lie apart.
const corrigible = 3.0

// Find is the segment that a correction is about: of an arc itself, of a corner the one
// that begins there, and len(o) for the last end. -1: there is none near enough.
func (o Outline) Find(c Correction) int {
	best, at := corrigible, -1
	look := func(k int, p Point) {
		if d := math.Hypot(p.Station-c.From.Station, p.Radius-c.From.Radius); d <= best {
			best, at = d, k
		}
	}
	for k, s := range o {
		switch {
		case !c.Arc:
			look(k, s.From)
		case s.Kind == Arc:
			look(k, s.Middle())
		}
	}
	if !c.Arc && len(o) > 0 {
		look(len(o), o[len(o)-1].To)
	}
	return at
}

// Middle is the middle of a line or an arc.
func (s Segment) Middle() Point {
	m := Point{(s.From.Station + s.To.Station) / 2, (s.From.Radius + s.To.Radius) / 2}
	if s.Kind != Arc {
		return m
	}
	dx, dy := m.Station-s.Centre.Station, m.Radius-s.Centre.Radius
	l := math.Hypot(dx, dy)
	if l == 0 { // half a turn: square to the chord, away from the axis
		return Point{s.Centre.Station, s.Centre.Radius + s.R}
	}
	return Point{s.Centre.Station + s.R*dx/l, s.Centre.Radius + s.R*dy/l}
}

// Corrected is the outline with a correction at what [Outline.Find] found. A corner's
// lines follow it; its arcs keep their radius as long as it reaches. An arc keeps its
// ends and passes through the place. The outline is shared with nothing.
func (o Outline) Corrected(k int, c Correction) Outline {
	out := make(Outline, len(o))
	copy(out, o)
	if c.Arc {
		out[k] = through(o[k].From, c.To, o[k].To)
		return out
	}
	if k > 0 {
		out[k-1] = o[k-1].between(o[k-1].From, c.To)
	}
	if k < len(o) {
		out[k] = o[k].between(c.To, o[k].To)
	}
	return out
}

// between is a segment of the same kind and radius between other ends; a line where
// the radius does not reach. A cap, whose centre lies on the axis and which ends there,
// stays one and takes the radius that it needs.
func (s Segment) between(from, to Point) Segment {
	line := Segment{Kind: Line, From: from, To: to}
	if s.Kind != Arc {
		return line
	}
	dx, dy := to.Station-from.Station, to.Radius-from.Radius
	half := math.Hypot(dx, dy) / 2
	switch {
	case half == 0:
		return line
	case to.Radius == 0 && dx > 0 && math.Abs(s.Centre.Radius) <= onCircleMM:
		r := 2 * half * half / dx // (dx² + dy²)/2dx
		return Segment{Kind: Arc, From: from, To: to, R: r, Centre: Point{Station: to.Station - r}}
	case half >= s.R:
		return line
	}
	// The centre lies on the chord's bisector, on the side that it was on.
	away := math.Sqrt(s.R*s.R-half*half) / (2 * half)
	mx, my := (from.Station+to.Station)/2, (from.Radius+to.Radius)/2
	turn := (s.To.Station-s.From.Station)*(s.Centre.Radius-s.From.Radius) - (s.To.Radius-s.From.Radius)*(s.Centre.Station-s.From.Station)
	if turn < 0 {
		away = -away
	}
	return Segment{Kind: Arc, From: from, To: to, R: s.R, Centre: Point{mx - away*dy, my + away*dx}}
}

// straight is the least height of an arc over its chord, mm, that is still an arc:
// under it a line says the same.
const straight = 0.01

// through is the arc from one place to another through a third; a line where the
// three lie on one, or where it would be half a turn or more.
func through(from, by, to Point) Segment {
	line := Segment{Kind: Line, From: from, To: to}
	dx, dy := to.Station-from.Station, to.Radius-from.Radius
	chord := math.Hypot(dx, dy)
	if chord == 0 {
		return line
	}
	// Along the chord from its middle, and over it.
	px, py := by.Station-(from.Station+to.Station)/2, by.Radius-(from.Radius+to.Radius)/2
	x, y := (px*dx+py*dy)/chord, (py*dx-px*dy)/chord
	if math.Abs(y) < straight {
		return line
	}
	// |(x, y-h)|² = (chord/2)² + h² for the centre at height h over the chord.
	h := (x*x + y*y - chord*chord/4) / (2 * y)
	if h*y >= 0 { // the centre on the side of the bulge: half a turn or more
		return line
	}
	centre := Point{(from.Station+to.Station)/2 - h*dy/chord, (from.Radius+to.Radius)/2 + h*dx/chord}
	return Segment{Kind: Arc, From: from, To: to, Centre: centre, R: math.Hypot(chord/2, h)}
}
