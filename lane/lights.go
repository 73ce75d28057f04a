package lane

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/stock"
	"scalewright/unit"
)

// Lights is the build in outline with what lights and sounds in it: components at
// their stations, wires as heavy as their conductors, lamps in the colour they
// have when nothing else plays.
func Lights(p *Prepared, v View) *drawing.Scene {
	const title = "Lights and sound"
	switch {
	case len(p.boxes) == 0:
		return empty(v, title, "No lights or sound: name what is bought under components.")
	case v.Folded:
		return folded(v, title, saysLights(p, v.System), readLights(p, v))
	}
	if s, ok := p.opened(v, title); !ok {
		return s
	}
	if !p.litHere(v) {
		return empty(v, title, "No component and no wire lies between "+v.System.Whole(v.Span.From)+" and "+v.System.Whole(v.Span.To)+".")
	}
	g := &figure{p: p, v: v, k: v.Scale(), s: v.paper(1), e: p.extent(v)}
	g.s.Title, g.s.Desc = title, saysLights(p, v.System).Says
	g.lightsOnly()
	labels := g.lampLabels()
	g.top = topRim + labelRow*float64(labels.rowsAbove()) + aboveBody
	g.axis = g.top + (g.e.up-g.e.skip)*g.k
	g.foot = g.axis + (g.e.down-g.e.skip)*g.k
	g.s.Height = g.foot + belowBody + labelRow*mostLabels
	g.room = drawing.NewRoom(drawing.Rect{X: edge, W: g.s.Width - 2*edge, H: g.s.Height})
	g.up, g.low = p.halves(g.s, v, g.e, g.axis)
	p.underlay(g.s, v)
	g.ghost()
	for _, w := range p.ways {
		if v.touches(w.from, w.to) {
			st := drawing.Thin.Wide(conductorLine(w.area))
			g.wire(w, st, st)
		}
	}
	for _, b := range p.boxes {
		if v.touches(b.from, b.to) {
			g.bay(b, drawing.Field)
			g.lamps(b)
		}
	}
	g.axisLine()
	bottom := labels.draw(g, topRim)
	g.notes(bottom + 1)
	g.s.Height = bottom + belowBody
	fitHeight(g.s)
	hang(g.s, v)
	return g.s
}

// litHere reports whether any component or wire is in view.
func (p *Prepared) litHere(v View) bool {
	for _, b := range p.boxes {
		if v.touches(b.from, b.to) {
			return true
		}
	}
	for _, w := range p.ways {
		if v.touches(w.from, w.to) {
			return true
		}
	}
	return false
}

// lightsOnly leaves out of the extent what only the silhouettes reach.
func (g *figure) lightsOnly() {
	if len(g.p.profile) > 0 && g.e.skip == 0 {
		from, to := g.v.seen()
		radius := 0.0
		for _, q := range g.p.profile {
			if q.Station >= from && q.Station <= to {
				radius = max(radius, q.Radius)
			}
		}
		if radius > 0 {
			g.e.up, g.e.down = radius, radius
		}
	}
}

// ghost is the build in outline: both halves, the core tinted, seams fine.
func (g *figure) ghost() {
	if c := g.p.Design.Core; c != nil {
		for _, h := range [...]halfView{g.up, g.low} {
			h.fill(h.box(float64(c.Span.From), float64(c.Span.To), 0, h.sign*float64(c.Stock.OD)/2), drawing.Core)
		}
	}
	for _, o := range g.p.own {
		for _, h := range [...]halfView{g.up, g.low} {
			if len(g.p.profile) == 0 {
				h.line(h.picture(o.lines), drawing.Fine)
			}
		}
	}
	for _, h := range [...]halfView{g.up, g.low} {
		for _, seam := range g.p.Division.Seams {
			if at := float64(seam.Station); g.v.touches(at, at) {
				h.line(drawing.Polyline(h.at(at, 0), h.at(at, h.sign*g.p.radiusAt(at))), drawing.Fine.In(drawing.Rule))
			}
		}
		h.line(h.plot.line(g.p.profile, h.sign), drawing.Object)
	}
}

// conductorLine is the width on paper of a wire's line, mm: it goes with the
// conductor's diameter, so that sizes tell apart.
func conductorLine(area float64) float64 {
	if !(area > 0) {
		return drawing.FineWidth
	}
	d := 2 * math.Sqrt(area/math.Pi)
	return min(max(drawing.HairWidth, 0.6*d), 1.2)
}

// lamps are the pixels of a strip in the colour of the show that plays when
// nothing else does.
func (g *figure) lamps(b bayBox) {
	if b.component.Kind.Role != stock.Strip || b.component.Pixels <= 0 {
		return
	}
	c := g.p.idleColour()
	n := min(b.component.Pixels, 400)
	begin(g.s, "lamps-"+b.component.ID, "lamps", fmt.Sprintf("%d lamps, %s when nothing else plays", b.component.Pixels, string(c)), b.from, b.to)
	defer g.s.End()
	dot := func(h halfView, station, height float64) {
		if h.shows(station, height) {
			q := h.at(station, height)
			g.s.Rect(drawing.Rect{X: q.X - 0.8, Y: q.Y - 0.8, W: 1.6, H: 1.6}, drawing.Style{Fill: c, Stroke: drawing.Fine})
		}
	}
	middle := (b.from + b.to) / 2
	if b.wound > 0 {
		for k := range n {
			height := b.wound * math.Cos(2*math.Pi*float64(k)/float64(n))
			h := g.up
			if height < 0 {
				h = g.low
			}
			dot(h, middle, height)
		}
		return
	}
	for k := range n {
		station := b.from + (float64(k)+0.5)/float64(n)*(b.to-b.from)
		height := (b.low + b.high) / 2
		h := g.up
		if height < 0 {
			h = g.low
		}
		dot(h, station, height)
	}
}

// idleColour is what the lamps show when nothing else plays; dark where no show is
// named for that.
func (p *Prepared) idleColour() drawing.Colour {
	prog := p.Effects.Program
	if prog.Idle < 0 || prog.Idle >= len(prog.Shows) {
		return "#3a3530"
	}
	c := prog.Shows[prog.Idle].Colour
	return drawing.Colour(fmt.Sprintf("#%02x%02x%02x", c[0], c[1], c[2]))
}

// lampLabels name the components and the heaviest wire.
func (g *figure) lampLabels() labelSet {
	var out labelSet
	for _, l := range g.labels() {
		if len(l.id) > 6 && l.id != "label-core" && l.id != "label-post" && l.face == drawing.Regular {
			out = append(out, l)
		}
	}
	return out
}

func saysLights(p *Prepared, _ unit.System) Summary {
	if len(p.boxes) == 0 {
		return Summary{Says: "none"}
	}
	out := Summary{Says: fmt.Sprintf("%d components, %d wires", len(p.boxes), len(p.Places.Ways))}
	if e := p.Effects; e.Supply != "" {
		out.Says += fmt.Sprintf("; at most %.1f A of %.1f", e.Most/1000, e.Gives/1000)
		out.Alarm = e.Most > e.Gives
	}
	worst := 0.0
	for _, w := range p.Effects.Wires {
		worst = max(worst, w.Drop)
	}
	if worst > 0 {
		out.Remark = fmt.Sprintf("%.2f V lost at most", worst)
	}
	return out
}

// readLights are the components at the plumb line, or the wires that pass it.
func readLights(p *Prepared, v View) Reading {
	at, ok := v.plumb()
	if !ok || len(p.boxes) == 0 {
		return Reading{}
	}
	words, n := "", 0
	for _, b := range p.boxes {
		if at >= b.from && at <= b.to {
			if n < 3 {
				if words != "" {
					words += ", "
				}
				words += b.component.ID
			}
			n++
		}
	}
	if n > 3 {
		words += fmt.Sprintf(" and %d more", n-3)
	}
	if n > 0 {
		return Reading{Here: words}
	}
	passing := 0
	for _, w := range p.ways {
		if at >= w.from && at <= w.to {
			passing++
		}
	}
	switch passing {
	case 0:
		return Reading{Here: "nothing here"}
	case 1:
		return Reading{Here: "one wire passes"}
	}
	return Reading{Here: fmt.Sprintf("%d wires pass", passing)}
}

// LightsTable lists components by station, then wires.
func LightsTable(p *Prepared, u unit.System) Table {
	t := table("Lights and sound: "+saysLights(p, u).Says, "what", "#from", "#to", "#conductor", "#long", "#lost")
	for _, i := range order(p.boxes, func(k int) float64 { return p.boxes[k].from }) {
		b := p.boxes[i]
		t.row(b.says(), u.Whole(unit.Length(b.from)), u.Whole(unit.Length(b.to)), "–", "–", "–")
	}
	for _, w := range p.ways {
		size, long, lost := "–", "–", "–"
		if w.area > 0 {
			size = fmt.Sprintf("AWG %d, %.2f mm²", w.gauge, w.area)
			long, lost = u.Whole(w.run.Length), fmt.Sprintf("%.2f V", w.run.Drop)
		}
		t.row(w.name, u.Whole(unit.Length(w.from)), u.Whole(unit.Length(w.to)), size, long, lost)
	}
	return t
}
