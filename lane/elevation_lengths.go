package lane

import (
	"cmp"
	"math"
	"slices"

	"scalewright/drawing"
	"scalewright/model"
	"scalewright/unit"
)

// lengthsShown reports whether any length of a piece can be dimensioned.
func (g *figure) lengthsShown() bool { return len(g.chain()) > 0 }

// chain are the stretches that the chain of lengths dimensions: of the selected
// piece, or of all shells that are wholly seen; of the parts where there are no
// pieces.
func (g *figure) chain() []model.Span {
	var out []model.Span
	take := func(s model.Span) {
		if s.Length() > 0 && g.v.holds(float64(s.From), float64(s.To)) {
			out = append(out, s)
		}
	}
	if i, ok := g.p.pieceOf(g.v.Selected); ok {
		take(g.p.stretch[i])
		return out
	}
	for _, i := range g.p.shells {
		take(g.p.Division.Pieces[i].Span)
	}
	if len(g.p.shells) == 0 {
		for _, part := range g.p.Design.Parts {
			if part.OnBody() {
				take(part.Span)
			}
		}
	}
	if len(g.p.shells) == 1 && g.wholeShown() {
		return nil // the overall length says it
	}
	return out
}

// lengths are the overall length and the chain of the pieces' lengths. A figure
// stands in the break of its line, aside of the flags' poles; where there is no
// room it stands over the line, and where there is none either the table has it.
func (g *figure) lengths(overall, chain float64) {
	u := g.v.System
	end := g.topOf
	if overall > 0 {
		d := drawing.Dimension{
			ID: "overall", From: end(float64(g.p.Span.From)), To: end(float64(g.p.Span.To)), At: overall,
			Text: u.Figure(g.p.Span.Length()), Title: "overall length",
		}
		g.dimension(d)
	}
	selected := g.v.Selected != ""
	g.s.Begin(drawing.Group{ID: "lengths", Class: "chain"})
	defer g.s.End()
	last := math.Inf(-1)
	for n, span := range g.chain() {
		a, b := end(float64(span.From)), end(float64(span.To))
		d := drawing.Dimension{
			ID: numbered("length", n+1), From: a, To: b, At: chain, Text: u.Figure(span.Length()), Mark: selected,
			NoExtension: true, Title: "length " + u.Whole(span.Length()),
		}
		if a.X-last > 0.01 { // an extension line that two lengths share is drawn once
			g.extension(a, chain)
		}
		g.extension(b, chain)
		last = b.X
		g.dimension(d)
	}
}

// topOf is where an extension line begins at a station.
func (g *figure) topOf(station float64) drawing.Point {
	q := g.up.at(station, g.highest(station))
	return drawing.Pt(q.X, max(q.Y, g.top))
}

// keepExtensions keeps the lines of the chain of lengths free of what is lettered
// before they are drawn.
func (g *figure) keepExtensions(chain float64) {
	for _, span := range g.chain() {
		for _, at := range [...]unit.Length{span.From, span.To} {
			p := g.topOf(float64(at))
			g.room.Line(p, drawing.Pt(p.X, chain-1.4))
		}
	}
}

// highest is how far the build reaches above the axis at a station; the boxes round
// what stands before the body count whole.
func (g *figure) highest(station float64) float64 {
	high := g.p.radiusAt(station)
	for _, o := range g.p.own {
		if station >= float64(o.span.From) && station <= float64(o.span.To) && (o.front || len(g.p.profile) == 0) {
			high = max(high, o.up)
		}
	}
	return high
}

// extension runs from near a place up to a little past a dimension line.
func (g *figure) extension(p drawing.Point, y float64) {
	if p.Y-y > 1 {
		g.s.Line(drawing.Pt(p.X, p.Y-1), drawing.Pt(p.X, y-1.4), drawing.Fine)
	}
}

// overTicks keeps a figure over its line clear of the oblique ends, mm.
const overTicks = drawing.TickSize + 0.3

// shifts are tried for a figure in its break, as shares of the line.
var shifts = [...]float64{0, 0.15, -0.15, 0.3, -0.3, 0.4, -0.4}

// dimension draws a horizontal dimension with its figure where there is room.
func (g *figure) dimension(d drawing.Dimension) {
	from, to := min(d.From.X, d.To.X), max(d.From.X, d.To.X)
	wide := drawing.Measure(d.Text, d.Owner.Face(), drawing.SizeFigure)
	if d.Mark {
		wide += drawing.SizeFigure * 1.2
	}
	half, pad := wide/2, 2.8
	high := drawing.SizeFigure * 0.8
	for _, share := range shifts {
		x := (from+to)/2 + share*(to-from)
		if x-half-pad < from || x+half+pad > to {
			continue
		}
		if b := (drawing.Rect{X: x - half, Y: d.At - high/2, W: wide, H: high}); g.room.Free(b, 0.6) {
			d.Shift = share * (to - from)
			g.s.Dimension(d)
			g.room.Words(b)
			return
		}
	}
	// Over the line, where that stays clear of what is beside it.
	x := (from + to) / 2
	b := drawing.Rect{X: x - half, Y: d.At - 1.2 - high, W: wide, H: high}
	if wide <= to-from-2*overTicks && g.room.Free(b, 0.4) {
		d.Above = true
		g.room.Words(b)
	} else {
		d.Text = ""
	}
	g.s.Dimension(d)
}

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

// lineShares are the places across a cylinder tried for its dimension line, the
// middle late: there the names stand.
var lineShares = [...]float64{0.25, 0.75, 0.15, 0.85, 0.35, 0.65, 0.5, 0.08, 0.92, 0.42, 0.58}

// diameters are drawn through the body, and beside it for the ends. A cropped
// elevation has none: its dimension line would be too short for its figure.
// It returns how many found room.
func (g *figure) diameters() int {
	if len(g.p.profile) == 0 || g.e.skip > 0 {
		return 0
	}
	drawn := 0
	o := g.p.Design.Outline
	lettered := map[string]bool{}
	for n, c := range cylinders(o) {
		a, b := max(c.from, float64(g.v.Span.From)), min(c.to, float64(g.v.Span.To))
		if a > b {
			continue
		}
		text := "⌀ " + g.v.System.Figure(unit.Length(2*c.radius))
		if c.from == c.to && g.onSeam(c.from) && g.v.holds(o.End(), o.End()) {
			// Its line would lie on the seam's: it stands past the far end.
			past := g.up.at(o.End(), 0).X - g.up.at(c.from, 0).X + offEnd
			if g.upright(drawing.Dimension{
				ID: numbered("across", n), Axis: drawing.Vertical, Text: text, Owner: drawing.Reference, Mark: true, Title: "diameter " + text,
			}, c.from, c.radius, past) {
				lettered[text] = true
				drawn++
			}
			continue
		}
		for _, share := range lineShares {
			d := drawing.Dimension{
				ID: numbered("across", n), Axis: drawing.Vertical, Text: text, Owner: drawing.Reference,
				NoExtension: true, Mark: true, Title: "diameter " + text,
			}
			if g.upright(d, a+share*(b-a), c.radius, 0) {
				lettered[text] = true
				drawn++
				break
			}
		}
	}
	for k, station := range [...]float64{o.Start(), o.End()} {
		radius := o.RadiusAt(station)
		text := "⌀ " + g.v.System.Figure(unit.Length(2*radius))
		if lettered[text] || !g.v.holds(station, station) {
			continue
		}
		if g.upright(drawing.Dimension{
			ID: numbered("end", 2*k), Axis: drawing.Vertical, Text: text, Owner: drawing.Reference, Mark: true, Title: "diameter " + text,
		}, station, radius, offEnd*float64(2*k-1)) {
			drawn++
		}
	}
	return drawn
}

// namesAndDiameters letters the names in the middle of their pieces and the
// diameters beside them; where that costs a diameter its place, the other way round.
func (g *figure) namesAndDiameters() {
	items, before := len(g.s.Items), g.room.Mark()
	undo := func() {
		g.s.Items = g.s.Items[:items]
		g.room.Back(before)
	}
	alone := g.diameters()
	undo()
	g.names()
	if g.diameters() < alone {
		undo()
		g.diameters()
		g.names()
	}
}

// onSeam reports whether a seam is drawn at a station, or as near as a tick.
func (g *figure) onSeam(station float64) bool {
	for _, i := range g.p.shells {
		span := g.p.Division.Pieces[i].Span
		if math.Min(math.Abs(float64(span.From)-station), math.Abs(float64(span.To)-station))*g.k < drawing.TickSize {
			return true
		}
	}
	return false
}

// offEnd is how far off an end of the body its diameter is dimensioned, mm.
const offEnd = 8.0

// upright draws a diameter so far beside its station, its figure in the half above
// the axis where it fits, else about the axis; it reports whether there was room.
func (g *figure) upright(d drawing.Dimension, station, radius, beside float64) bool {
	a, b := g.up.at(station, radius), g.low.at(station, -radius)
	x := a.X + beside
	wide := drawing.Measure(d.Text, drawing.Italic, drawing.SizeFigure) + drawing.SizeFigure*1.2
	long := b.Y - a.Y
	high := drawing.SizeFigure * 0.8
	d.At, d.From, d.To = x, a, b
	const tick = drawing.TickSize
	if g.room.Lettered(drawing.Rect{X: x - tick, Y: a.Y - tick, W: 2 * tick, H: long + 2*tick}) {
		return false
	}
	for _, shift := range [...]float64{long / 4, 0} {
		if room := long - 2*shift; shift > 0 && wide+7 > room || wide+9 > long {
			continue
		}
		middle := (a.Y+b.Y)/2 - shift
		box := drawing.Rect{X: x - high/2 - 0.4, Y: middle - wide/2 - 0.6, W: high + 0.8, H: wide + 1.2}
		if !g.room.Free(box, 0.6) || g.overBay(station) {
			continue
		}
		d.Shift = shift
		from := len(g.s.Items)
		g.s.Dimension(d)
		g.room.Words(box)
		g.room.Take(g.s, from)
		return true
	}
	return false
}

// overBay reports whether a diameter at a station would run through a component.
func (g *figure) overBay(station float64) bool {
	for _, b := range g.p.boxes {
		if margin := 2 / g.k; station > b.from-margin && station < b.to+margin && b.wound == 0 {
			return true
		}
	}
	return false
}
