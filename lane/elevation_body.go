package lane

import (
	"math"

	"scalewright/drawing"
	"scalewright/model"
)

// body draws the build itself, the farthest first.
func (g *figure) body() {
	g.ownPictures(false)
	if len(g.p.own) > 0 && len(g.p.profile) > 0 {
		// A cavity shows its far wall, not what lies behind.
		g.low.fill(g.low.underPoints(g.p.profile, -1), drawing.Sheet)
	}
	g.outside()
	g.core()
	g.section() // over the core: bushes sit in it
	g.insideThings()
	if len(g.p.profile) > 0 {
		g.low.line(g.low.plot.line(g.p.profile, -1), drawing.Outline)
	}
	g.ownPictures(true)
	g.hiddenCore()
	g.axisLine()
	if len(g.p.profile) > 0 {
		cover := g.low.underPoints(g.p.profile, -1)
		for _, o := range g.p.own {
			g.room.Bar(g.low.picture(o.fill).Clipped(g.low.clip), cover)
		}
	}
}

// underPoints is the area between the axis and a line of the profile.
func (p plot) underPoints(points []model.Point, sign float64) *drawing.Path {
	if len(points) == 0 {
		return &drawing.Path{}
	}
	first, last := points[0], points[len(points)-1]
	loop := append([]model.Point{{Station: first.Station}}, points...)
	return p.polygon(append(loop, model.Point{Station: last.Station}), sign)
}

// stretchOfProfile is the profile between two stations.
func (p *Prepared) stretchOfProfile(span model.Span) []model.Point {
	clip := p.Design.Outline.Between(float64(span.From), float64(span.To))
	return clip.Polyline(chordSag)
}

// outside draws the upper half as it is seen: pieces tinted by turns, the seams
// between them and the edges of the profile. Without pieces the parts are tinted.
func (g *figure) outside() {
	if len(g.p.profile) == 0 {
		return
	}
	draw := func(id, name string, span model.Span, fill drawing.Colour) {
		if !g.v.touches(float64(span.From), float64(span.To)) {
			return
		}
		points := g.p.stretchOfProfile(span)
		if len(points) == 0 {
			return
		}
		begin(g.s, id, "piece", name, float64(span.From), float64(span.To))
		g.up.fill(g.up.underPoints(points, 1), fill)
		for _, q := range [...]model.Point{points[0], points[len(points)-1]} {
			g.up.line(drawing.Polyline(g.up.at(q.Station, 0), g.up.at(q.Station, q.Radius)), drawing.Object)
		}
		g.s.End()
	}
	for _, i := range g.p.shells {
		piece := g.p.Division.Pieces[i]
		draw("piece-"+piece.ID.String(), piece.Name, piece.Span, g.p.tints[i])
	}
	if len(g.p.shells) == 0 {
		for k, part := range g.p.Design.Parts {
			if part.OnBody() {
				draw("part-"+part.ID, part.ID, part.Span, tint(k))
			}
		}
	}
	o := g.p.Design.Outline
	for i := 1; i < len(o); i++ {
		_, arrives := headings(o[i-1])
		leaves, _ := headings(o[i])
		if at := o[i].From; math.Abs(leaves-arrives) > visibleEdge && g.v.touches(at.Station, at.Station) {
			g.edges = append(g.edges, g.up.at(at.Station, 0).X)
			g.up.line(drawing.Polyline(g.up.at(at.Station, 0), g.up.at(at.Station, at.Radius)), drawing.Fine)
		}
	}
	g.up.line(g.up.plot.line(g.p.profile, 1), drawing.Outline)
	if i, ok := g.p.pieceOf(g.v.Selected); ok && !g.p.Division.Pieces[i].Own {
		points := g.p.stretchOfProfile(g.p.Division.Pieces[i].Span)
		g.up.line(g.up.underPoints(points, 1), drawing.Outline.Wide(drawing.FrameWidth))
	}
}

// section draws the lower half cut open: the pieces as they are carved, their
// material hatched, neighbours the other way.
func (g *figure) section() {
	order := 0
	for _, i := range g.p.bodies {
		c, piece := g.p.Carved[i], g.p.Division.Pieces[i]
		shell := piece.ID.Kind == model.Shell
		if shell {
			order++
		}
		if !g.v.touches(float64(c.Reach.From), float64(c.Reach.To)) {
			continue
		}
		path := &drawing.Path{}
		for _, loop := range c.Loops {
			path.Append(g.low.polygon(loop, -1))
		}
		h := drawing.Hatch{Pitch: drawing.HatchPitch * 0.6, Falling: true}
		if shell {
			h = drawing.Hatch{Falling: order%2 == 0}
		}
		begin(g.s, "cut-"+piece.ID.String(), "section", piece.Name+", in section", float64(c.Reach.From), float64(c.Reach.To))
		g.low.area(path, drawing.Style{Fill: drawing.Sheet, EvenOdd: true})
		g.low.hatch(path, h)
		g.low.line(path, g.cutEdge(float64(c.Wall)))
		g.s.End()
	}
}

// cutEdge is the line round cut material: an edge that is seen, heavier than its
// hatch, where the material is drawn thick enough to have both (ISO 128-2).
func (g *figure) cutEdge(wall float64) drawing.Stroke {
	if wall*g.k >= solidWall {
		return drawing.Object
	}
	return drawing.Thin
}

// core draws the stock pipe: its wall in section below the axis, its inside seen
// behind; hidden lines above.
func (g *figure) core() {
	c := g.p.Design.Core
	if c == nil || !g.v.touches(float64(c.Span.From), float64(c.Span.To)) {
		return
	}
	from, to := float64(c.Span.From), float64(c.Span.To)
	radius, wall := float64(c.Stock.OD)/2, float64(c.Stock.Wall)
	if !finite(from, to, radius, wall) {
		return
	}
	begin(g.s, "core", "core", c.Stock.Name, from, to)
	defer g.s.End()
	whole := g.low.box(from, to, -radius, 0)
	g.low.fill(whole, drawing.Core)
	cut := g.low.box(from, to, -radius, min(wall-radius, 0))
	if wall*g.k < solidWall {
		g.low.fill(cut, drawing.Ink)
	} else {
		g.low.hatch(cut, drawing.Hatch{Falling: true})
	}
	g.low.line(whole, drawing.Thin)
	g.post()
	if len(g.p.profile) > 0 {
		g.up.line(drawing.Polyline(g.up.at(from, 0), g.up.at(from, radius), g.up.at(to, radius), g.up.at(to, 0)), drawing.Hidden)
	}
}

// post is the stand's pipe where it stands in the build: its wall cut below the axis,
// its far half seen behind. It runs on to the floor.
func (g *figure) post() {
	from, to, ok := g.p.postSpan()
	if !ok || !g.v.touches(from, to) {
		return
	}
	post := g.p.Design.Stand.Post
	radius, wall := float64(post.OD)/2, float64(post.Wall)
	begin(g.s, "post", "core", post.Name+", of the stand", from, to)
	defer g.s.End()
	g.low.fill(g.low.box(from, to, -radius, 0), drawing.Shade)
	cut := g.low.box(from, to, -radius, min(wall-radius, 0))
	if wall <= 0 {
		cut = g.low.box(from, to, -radius, 0)
	}
	if wall*g.k < solidWall {
		g.low.fill(cut, drawing.Ink)
	} else {
		g.low.hatch(cut, drawing.Hatch{})
	}
	g.low.line(drawing.Polyline(g.low.at(from, -radius), g.low.at(to, -radius), g.low.at(to, 0)), drawing.Thin)
}

// postSpan are the stations between which the stand's post stands in the build.
func (p *Prepared) postSpan() (from, to float64, ok bool) {
	d, c := p.Design.Stand, p.Design.Core
	if d == nil || c == nil || d.Engage <= 0 || d.Post.OD <= 0 || len(p.profile) == 0 {
		return 0, 0, false
	}
	from, to = float64(p.Span.From), float64(c.Span.From+d.Engage)
	return from, to, finite(from, to, float64(d.Post.OD), float64(d.Post.Wall)) && from < to
}

// hiddenCore is the core of a build without a body, which nothing shows cut.
func (g *figure) hiddenCore() {
	c := g.p.Design.Core
	if c == nil || len(g.p.profile) > 0 || !finite(float64(c.Span.From), float64(c.Span.To), float64(c.Stock.OD)) {
		return
	}
	for _, h := range [...]halfView{g.up, g.low} {
		from, to, r := float64(c.Span.From), float64(c.Span.To), h.sign*float64(c.Stock.OD)/2
		h.line(drawing.Polyline(h.at(from, 0), h.at(from, r), h.at(to, r), h.at(to, 0)), drawing.Hidden)
	}
}

// ownPictures draws what has a line of its own: what the body hides in part, or
// what lies before it. Without a body the edges come after all silhouettes: each
// shows only what no other piece hides.
func (g *figure) ownPictures(front bool) {
	draw := func(o ownPicture, fill, lines bool) {
		for _, h := range [...]halfView{g.up, g.low} {
			if h.sign < 0 && o.down >= 0 || h.sign > 0 && o.up <= 0 {
				continue
			}
			if fill {
				h.fill(h.picture(o.fill), g.p.tints[o.piece])
			}
			if lines {
				h.line(h.picture(o.lines), drawing.Outline)
			}
		}
	}
	apart := len(g.p.profile) == 0
	for _, o := range g.p.own {
		if o.front != front || !g.v.touches(float64(o.span.From), float64(o.span.To)) {
			continue
		}
		piece := g.p.Division.Pieces[o.piece]
		begin(g.s, "piece-"+piece.ID.String(), "piece", piece.Name, float64(o.span.From), float64(o.span.To))
		draw(o, true, !apart)
		g.s.End()
	}
	for _, o := range g.p.own {
		if apart && o.front == front && g.v.touches(float64(o.span.From), float64(o.span.To)) {
			draw(o, false, true)
		}
	}
}

// insideThings are the components, and the wires between them: hidden lines above
// the axis, as they lie below it.
func (g *figure) insideThings() {
	for _, w := range g.p.ways {
		if !g.v.touches(w.from, w.to) {
			continue
		}
		g.wire(w, drawing.Object.Wide(drawing.ThinWidth), drawing.Hidden.Wide(drawing.FineWidth))
	}
	for _, b := range g.p.boxes {
		if g.v.touches(b.from, b.to) {
			g.bay(b, drawing.Field)
		}
	}
}

// wire draws a wire's way: in pencil where it carries a signal.
func (g *figure) wire(w wayLine, st, hidden drawing.Stroke) {
	if w.signal {
		st, hidden = st.In(drawing.Pencil), hidden.In(drawing.Pencil)
	}
	begin(g.s, "wire-"+w.wire, "wire", w.name, w.from, w.to)
	defer g.s.End()
	for _, h := range [...]halfView{g.up, g.low} {
		path := &drawing.Path{}
		for i := 1; i < len(w.points); i++ {
			a, b := w.points[i-1], w.points[i]
			if a, b, ok := onSide(a, b, h.sign); ok {
				path.Move(h.at(a.Station, a.Radius)).Line(h.at(b.Station, b.Radius))
			}
		}
		if h.sign > 0 {
			h.line(path, hidden)
		} else {
			h.line(path, st)
		}
	}
}

// onSide is the part of a straight piece that lies on the half of the sign.
func onSide(a, b model.Point, sign float64) (model.Point, model.Point, bool) {
	ha, hb := a.Radius*sign, b.Radius*sign
	if ha < 0 && hb < 0 {
		return a, b, false
	}
	on := func() model.Point {
		t := ha / (ha - hb)
		return model.Point{Station: a.Station + t*(b.Station-a.Station)}
	}
	switch {
	case ha < 0:
		a = on()
	case hb < 0:
		b = on()
	}
	return a, b, true
}

// bay draws a component's room, a wound strip where it is cut.
func (g *figure) bay(b bayBox, fill drawing.Colour) {
	begin(g.s, "component-"+b.component.ID, "component", b.says(), b.from, b.to)
	defer g.s.End()
	if b.wound > 0 {
		thick := max(float64(b.bay.Size[0]), 1.2/g.k)
		for _, h := range [...]halfView{g.up, g.low} {
			box := h.box(b.from, b.to, h.sign*(b.wound-thick/2), h.sign*(b.wound+thick/2))
			st := drawing.Object
			if h.sign > 0 {
				st = drawing.Hidden
			} else {
				h.fill(box, fill)
			}
			h.line(box, st)
		}
		return
	}
	if b.high > 0 {
		g.up.line(g.up.box(b.from, b.to, max(b.low, 0), b.high), drawing.Hidden)
	}
	if b.low < 0 {
		box := g.low.box(b.from, b.to, b.low, min(b.high, 0))
		g.low.fill(box, fill)
		g.low.line(box, drawing.Object)
	}
}

// axisLine is the centre line, or a line of break where the build is cropped about
// it.
func (g *figure) axisLine() {
	a, b := float64(g.p.Span.From)-6/g.k, float64(g.p.Span.To)+6/g.k
	from, to := g.up.at(a, g.e.skip), g.up.at(b, g.e.skip)
	from, to, ok := g.up.clip.Cut(drawing.Pt(from.X, g.axis-0.01), drawing.Pt(to.X, g.axis-0.01))
	if !ok {
		return
	}
	if g.e.skip == 0 {
		if len(g.p.profile) > 0 {
			g.s.Line(from, to, drawing.CentreLine)
		}
		return
	}
	const zig = 24.0 // mm between the zigzags of a break (ISO 128-2, thin with zigzags)
	path := (&drawing.Path{}).Move(from)
	for x := from.X + zig/2; x+2 < to.X; x += zig {
		path.Line(drawing.Pt(x-0.7, g.axis)).Line(drawing.Pt(x, g.axis-1.4)).Line(drawing.Pt(x+0.7, g.axis+1.4)).Line(drawing.Pt(x+1.4, g.axis))
	}
	g.s.Path(path.Line(to), drawing.Lined(drawing.Thin))
}
