package lane

import (
	"fmt"

	"scalewright/drawing"
	"scalewright/unit"
)

// Rows of the elevation, mm of paper, from the top: flags, overall length, chain
// of lengths, labels of what lies in the upper half; then the body; then labels,
// or item balls.
const (
	topRim      = 1.5
	overallHigh = 8.0
	chainHigh   = 8.0
	labelRow    = 5.0
	aboveBody   = 3.0
	belowBody   = 4.0
	mostLabels  = 6 // rows of labels under the body
)

// Elevation draws the build lying, datum to the left, to scale: the upper half
// from outside, the lower half in section, with components and wires at their
// stations and the findings' flags. What is larger than [View] has room for is
// cropped about the axis, and the drawing says so.
func Elevation(p *Prepared, v View) *drawing.Scene { return elevation(p, v, false) }

// Arrangement is the elevation with an item number on every piece, as the parts
// list counts them.
func Arrangement(p *Prepared, v View) *drawing.Scene { return elevation(p, v, true) }

// figure is an elevation on its way.
type figure struct {
	p     *Prepared
	v     View
	k     float64
	s     *drawing.Scene
	e     extent
	up    halfView
	low   halfView
	axis  float64
	top   float64 // of the body's room
	foot  float64 // its lower end
	room  *drawing.Room
	edges []float64 // x of the profile's edges that are drawn
	items bool
}

func elevation(p *Prepared, v View, items bool) *drawing.Scene {
	const title = "Elevation"
	switch {
	case len(p.profile) == 0 && len(p.own) == 0:
		return empty(v, title, "Nothing to draw yet: photograph the reference, or type its outline.")
	case v.Folded:
		return folded(v, title, saysElevation(p, v.System), readElevation(p, v))
	}
	if s, ok := p.opened(v, title); !ok {
		return s
	}
	g := &figure{p: p, v: v, k: v.Scale(), s: v.paper(1), e: p.extent(v), items: items}
	g.s.Title = title
	g.s.Desc = "Upper half outside, lower half in section. " + p.Name
	if len(p.profile) == 0 {
		g.s.Desc = "Seen from the side. " + p.Name
	}
	flags := flagRows{}
	if !items { // the book tells its findings beside
		flags = packFlags(p, v)
	}
	y := topRim + flags.rowsHeight()
	overall, chain := 0.0, 0.0
	if g.wholeShown() {
		overall = y + overallHigh/2
		y += overallHigh
	}
	if g.lengthsShown() {
		chain = y + chainHigh/2
		y += chainHigh
	}
	labels := g.labels()
	ceiling := y + 0.6 // of short poles: they keep clear of the dimensions
	y += flags.shortHeight()
	over := y
	if items {
		y += ballRow * float64(g.ballsAbove())
	} else {
		y += labelRow * float64(labels.rowsAbove())
	}
	g.top = y + aboveBody
	g.axis = g.top + (g.e.up-g.e.skip)*g.k
	g.foot = g.axis + (g.e.down-g.e.skip)*g.k
	g.s.Height = g.foot + belowBody + labelRow*mostLabels + ballRow*mostBallRows
	g.room = drawing.NewRoom(drawing.Rect{X: edge, W: g.s.Width - 2*edge, H: g.s.Height})
	g.up, g.low = p.halves(g.s, v, g.e, g.axis)

	if items { // no scale of stations stands over it
		p.tintSelected(g.s, v)
	} else {
		p.underlay(g.s, v)
	}
	g.body()
	g.covers()
	g.keepExtensions(chain)
	flags.draw(g, ceiling)
	from := len(g.s.Items)
	g.lengths(overall, chain)
	g.room.Take(g.s, from)
	g.namesAndDiameters()
	bottom := g.foot
	if items {
		bottom = max(bottom, g.balls(over))
	} else {
		bottom = max(bottom, labels.draw(g, over))
	}
	g.notes(bottom + 1)
	g.s.Height = bottom + belowBody
	fitHeight(g.s)
	hang(g.s, v)
	return g.s
}

// covers keeps figures and names off what stands before the body and off the
// components.
func (g *figure) covers() {
	if len(g.p.profile) == 0 {
		return
	}
	for _, o := range g.p.own {
		if o.front && g.v.touches(float64(o.span.From), float64(o.span.To)) {
			g.room.Cover(g.up.picture(o.fill).Clipped(g.up.clip))
		}
	}
	for _, b := range g.p.boxes {
		if b.wound == 0 && b.high > 0 && g.v.touches(b.from, b.to) {
			g.room.Cover(g.up.box(b.from, b.to, max(b.low, 0), b.high).Clipped(g.up.clip))
		}
	}
}

// fitHeight cuts what lies under a scene, drawn for its whole height, to the height
// it got in the end.
func fitHeight(s *drawing.Scene) {
	for i, it := range s.Items {
		switch d := it.(type) {
		case drawing.Group:
			if d.Class != "grid" {
				return // all that lies under comes first
			}
		case drawing.Drawn:
			b := d.Path.Bounds()
			if d.Style.Stroke.Width > 0 {
				d.Path = d.Path.Within(drawing.Rect{W: s.Width, H: s.Height})
			} else {
				d.Path = drawing.Box(drawing.Rect{X: b.X, W: b.W, H: s.Height})
			}
			s.Items[i] = d
		case drawing.GroupEnd:
			return
		}
	}
}

// wholeShown reports whether the overall length can be dimensioned.
func (g *figure) wholeShown() bool {
	return g.v.Selected == "" && g.v.holds(float64(g.p.Span.From), float64(g.p.Span.To))
}

// notes say what of the build is not seen.
func (g *figure) notes(y float64) {
	words := ""
	if g.e.skip > 0 {
		words = fmt.Sprintf("cropped: within %s of the axis", g.v.System.Whole(unit.Length(g.e.skip)))
	}
	if !g.v.holds(float64(g.p.Span.From), float64(g.p.Span.To)) {
		if words != "" {
			words += "; "
		}
		words += fmt.Sprintf("stations %s to %s of %s", g.v.System.Figure(g.v.Span.From), g.v.System.Figure(g.v.Span.To), g.v.System.Whole(g.p.Span.To))
	}
	if words == "" {
		return
	}
	t := drawing.Text{At: drawing.Pt(g.s.Width-Pad/2, y+1.5), H: drawing.End, String: words, Size: drawing.SizeCaption, Colour: drawing.Ink3}
	g.room.Write(g.s, t, 0.5)
}

func saysElevation(p *Prepared, u unit.System) Summary {
	if len(p.profile) == 0 && len(p.own) == 0 {
		return Summary{Says: "no outline yet"}
	}
	out := Summary{Says: u.Whole(p.Span.Length()) + " long"}
	if len(p.profile) > 0 {
		out.Says += ", " + u.Whole(unit.Length(2*p.Design.Outline.MaxRadius())) + " across"
	}
	return out
}

// readElevation is the diameter at the plumb line, at full size and of the
// reference.
func readElevation(p *Prepared, v View) Reading {
	at, ok := v.plumb()
	if !ok {
		return Reading{}
	}
	if d := 2 * p.radiusAt(at); d > 0 {
		r := Reading{Here: "⌀ " + v.System.Tenth(unit.Length(d))}
		if ref := p.ref(v.System, d); ref != "" {
			r.Reference = ref + " on the reference"
		}
		return r
	}
	for _, o := range p.own {
		if at >= float64(o.span.From) && at <= float64(o.span.To) {
			return Reading{Here: p.Division.Pieces[o.piece].Name}
		}
	}
	return Reading{Here: "nothing here"}
}

// ElevationTable lists what the elevation shows: pieces, core, components, wires
// and flags by station.
func ElevationTable(p *Prepared, u unit.System) Table {
	t := table("The build by station, "+saysElevation(p, u).Says, "what", "#from", "#to", "#largest diameter", "note")
	for _, i := range p.byStation() {
		piece := p.Division.Pieces[i]
		across := "–"
		if i < len(p.Carved) && !piece.Own {
			across = u.Tenth(p.Carved[i].Diameter)
		}
		t.row(piece.Name, u.Whole(p.stretch[i].From), u.Whole(p.stretch[i].To), across, string(piece.ID.Kind))
	}
	if c := p.Design.Core; c != nil {
		t.row(c.Stock.Name, u.Whole(c.Span.From), u.Whole(c.Span.To), u.Tenth(c.Stock.OD), "core")
	}
	for _, b := range p.boxes {
		t.row(b.says(), u.Whole(unit.Length(b.from)), u.Whole(unit.Length(b.to)), "–", "component")
	}
	for _, w := range p.ways {
		t.row(w.wire, u.Whole(unit.Length(w.from)), u.Whole(unit.Length(w.to)), "–", "wire")
	}
	for _, f := range p.flags {
		at := u.Whole(f.finding.Station)
		t.row(f.says(u), at, at, "–", f.finding.Severity.String())
	}
	return t
}
