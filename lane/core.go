package lane

import (
	"fmt"

	"scalewright/drawing"
	"scalewright/unit"
)

const (
	coreHeight = 22.0
	coreBar    = 5.0
	postBar    = 3.0
	postRoom   = 4.6
)

// Core is the stock inside the build, to its length: saw cuts, what is seated on
// it, and the stand's post in its foot.
func Core(p *Prepared, v View) *drawing.Scene {
	const title = "Core and stock"
	c := p.Design.Core
	switch {
	case c == nil || !(c.Span.Length() > 0):
		return empty(v, title, "No core: name a pipe or a rod under core, and its length is given here.")
	case v.Folded:
		return folded(v, title, saysCore(p, v.System), readCore(p, v))
	}
	if s, ok := p.opened(v, title); !ok {
		return s
	}
	height := coreHeight
	if st := p.Design.Stand; st != nil && st.Post.OD > 0 && v.touches(float64(-st.Below), float64(c.Span.From+st.Engage)) {
		height += postRoom
	}
	s := v.paper(height)
	s.Title, s.Desc = title, saysCore(p, v.System).Says
	p.underlay(s, v)
	clip := drawing.Rect{X: edge, W: s.Width - 2*edge, H: s.Height}
	room := drawing.NewRoom(clip)
	const y = 9.5
	bar := func(from, to unit.Length, y, high float64) *drawing.Path {
		return drawing.Box(drawing.Rect{X: v.X(from), Y: y, W: v.X(to) - v.X(from), H: high})
	}
	begin(s, "core-length", "stock", s.Desc, float64(c.Span.From), float64(c.Span.To))
	box := bar(c.Span.From, c.Span.To, y, coreBar)
	s.Path(box.Clipped(clip), drawing.Filled(drawing.Core))
	s.Path(box.Within(clip), drawing.Lined(drawing.Object))
	s.End()
	for _, seat := range p.Division.Seats {
		if !v.touches(float64(seat.Span.From), float64(seat.Span.To)) {
			continue
		}
		ring, _ := p.Division.Piece(seat.Ring)
		begin(s, "seat-"+seat.Ring.String(), "seat", ring.Name+", "+v.System.Whole(seat.Span.From-c.Span.From)+" from the core's foot", float64(seat.Span.From), float64(seat.Span.To))
		path := bar(seat.Span.From, seat.Span.To, y-1, coreBar+2).Clipped(clip)
		s.Path(path, drawing.Filled(drawing.Sheet))
		s.Hatch(path, drawing.Hatch{Pitch: drawing.HatchPitch * 0.6, Falling: true})
		s.Path(bar(seat.Span.From, seat.Span.To, y-1, coreBar+2).Within(clip), drawing.Lined(drawing.Thin))
		s.End()
	}
	for k, at := range [...]unit.Length{c.Span.From, c.Span.To} {
		sawCut(s, v, numbered("saw", k+1), at, y-2, y+coreBar+2)
	}
	if v.holds(float64(c.Span.From), float64(c.Span.To)) {
		from := len(s.Items)
		s.Dimension(drawing.Dimension{
			ID: "core-dimension", From: drawing.Pt(v.X(c.Span.From), y-2), To: drawing.Pt(v.X(c.Span.To), y-2), At: 4,
			Text: v.System.Figure(c.Span.Length()), Mark: true, Title: "core, " + v.System.Whole(c.Span.Length()),
		})
		room.Take(s, from)
	}
	name := drawing.Text{At: drawing.Pt(0, y+coreBar/2), V: drawing.Centre, H: drawing.Middle, String: c.Stock.Name, Size: drawing.SizeSmall, Halo: 0.6}
	a, b := max(edge, v.X(c.Span.From)), min(s.Width-edge, v.X(c.Span.To))
	for _, seat := range p.Division.Seats {
		room.Words(drawing.Rect{X: v.X(seat.Span.From), Y: y - 1, W: v.X(seat.Span.To) - v.X(seat.Span.From), H: coreBar + 2})
	}
	for _, share := range shifts {
		name.At.X = (a+b)/2 + share*(b-a)
		if box := name.Bounds(); box.X > a+1 && box.X+box.W < b-1 && room.Write(s, name, 1) {
			break
		}
	}
	p.seatFigures(s, v, room, y+coreBar+3.4)
	p.post(s, v, room, clip, y+coreBar+2.6)
	hang(s, v)
	return s
}

// sawCut is a cut square through the stock.
func sawCut(s *drawing.Scene, v View, id string, at unit.Length, top, bottom float64) {
	if !v.touches(float64(at), float64(at)) {
		return
	}
	begin(s, id, "cut", "saw at "+v.System.Whole(at), float64(at), float64(at))
	x := v.X(at)
	s.Line(drawing.Pt(x, top), drawing.Pt(x, bottom), drawing.CentreLine.Wide(drawing.ThinWidth))
	s.End()
}

// seatFigures letter how far each seat lies from the core's foot.
func (p *Prepared) seatFigures(s *drawing.Scene, v View, room *drawing.Room, y float64) {
	from := p.Design.Core.Span.From
	for _, seat := range p.Division.Seats {
		if seat.Span.From < v.Span.From || seat.Span.From > v.Span.To {
			continue
		}
		room.Write(s, drawing.Text{
			At: drawing.Pt(v.X(seat.Span.From), y), H: drawing.Middle, V: drawing.Top, Size: drawing.SizeCaption,
			String: v.System.Figure(seat.Span.From - from), Halo: 0.4,
		}, 1)
	}
}

// post is the stand's post below and inside the core's foot.
func (p *Prepared) post(s *drawing.Scene, v View, room *drawing.Room, clip drawing.Rect, y float64) {
	st := p.Design.Stand
	if st == nil || st.Post.OD == 0 {
		return
	}
	from, to := -st.Below, p.Design.Core.Span.From+st.Engage
	if !v.touches(float64(from), float64(to)) {
		return
	}
	y += 3.6
	box := drawing.Box(drawing.Rect{X: v.X(from), Y: y, W: v.X(to) - v.X(from), H: postBar})
	begin(s, "post", "stock", st.Post.Name+", "+v.System.Whole(st.Engage)+" into the core", float64(from), float64(to))
	s.Path(box.Clipped(clip), drawing.Filled(drawing.Shade))
	s.Path(box.Within(clip), drawing.Lined(drawing.Thin))
	s.End()
	room.Write(s, drawing.Text{
		At: drawing.Pt(min(v.X(to), clip.X+clip.W)+1.5, y+postBar/2), V: drawing.Centre, Size: drawing.SizeCaption,
		String: st.Post.Name + ", " + v.System.Figure(st.Engage) + " into the core",
	}, 0.5)
}

func saysCore(p *Prepared, u unit.System) Summary {
	c := p.Design.Core
	if c == nil {
		return Summary{Says: "no core"}
	}
	out := Summary{Says: fmt.Sprintf("%s, sawn to %s", c.Stock.Name, u.Whole(c.Span.Length()))}
	if n := len(p.Division.Seats); n > 0 {
		out.Remark = fmt.Sprintf("%d core rings on it", n)
	}
	return out
}

func readCore(p *Prepared, v View) Reading {
	at, ok := v.plumb()
	c := p.Design.Core
	switch {
	case !ok || c == nil:
		return Reading{}
	case at < float64(c.Span.From) || at > float64(c.Span.To):
		return Reading{Here: "no core here"}
	}
	return Reading{Here: v.System.Whole(unit.Length(at)-c.Span.From) + " from the core's foot"}
}

// CoreTable lists the stock, and what is seated on it from its foot.
func CoreTable(p *Prepared, u unit.System) Table {
	t := table("Core and stock: "+saysCore(p, u).Says, "what", "#from", "#to", "#from the core's foot")
	c := p.Design.Core
	if c == nil {
		return t
	}
	t.row(c.Stock.Name+", sawn to "+u.Whole(c.Span.Length()), u.Whole(c.Span.From), u.Whole(c.Span.To), u.Whole(0))
	for _, seat := range p.Division.Seats {
		ring, _ := p.Division.Piece(seat.Ring)
		t.row(ring.Name, u.Whole(seat.Span.From), u.Whole(seat.Span.To), u.Whole(seat.Span.From-c.Span.From))
	}
	if st := p.Design.Stand; st != nil && st.Post.OD > 0 {
		t.row(st.Post.Name+", the stand's post", u.Whole(-st.Below), u.Whole(c.Span.From+st.Engage), u.Whole(st.Engage))
	}
	return t
}
