package lane

import (
	"slices"

	"scalewright/drawing"
	"scalewright/unit"
)

// SheetOptions say how the lanes are put on one sheet. The view's width is that of
// the lanes, their heads not included.
type SheetOptions struct {
	View View
	Head float64  // mm of the heads; 0: 32
	Open []string // ids of the lanes that are open; the others are folded
	Skip []string // ids of lanes that are left out
}

const (
	usualHead = 32.0
	headPad   = 2.0
	bobHeight = 9.0
)

// Sheet puts the scale of stations, all lanes under it and the plumb line's bob on
// one drawing, heads to the left.
func Sheet(p *Prepared, o SheetOptions) *drawing.Scene {
	if o.Head == 0 {
		o.Head = usualHead
	}
	v := o.View
	s := drawing.New(o.Head+v.paper(1).Width, 1)
	s.Title = "All lanes of " + p.Name
	axis := Axis(p, v)
	s.Place(axis, drawing.Pt(o.Head, 0), "axis-")
	in := "Station, mm"
	if v.System == unit.FeetInches {
		in = "Station, ft-in"
	}
	head(s, 3.9, in, drawing.Bold, drawing.Ink, o.Head)
	if p.Enlarge.Ratio > 0 {
		head(s, 8.6, "on the reference", drawing.Italic, drawing.Pencil, o.Head)
	}
	y := axis.Height
	rule := func(at drawing.Stroke) { s.Line(drawing.Pt(0, y), drawing.Pt(s.Width, y), at) }
	rule(drawing.Thin)
	for n, l := range All() {
		if slices.Contains(o.Skip, l.ID) {
			continue
		}
		if n > 0 {
			rule(drawing.LaneRule)
		}
		v.Folded = !slices.Contains(o.Open, l.ID)
		scene := l.Draw(p, v)
		s.Begin(drawing.Group{ID: "lane-" + l.ID, Class: "lane", Title: l.Name})
		s.Place(scene, drawing.Pt(o.Head, y), l.ID+"-")
		high := scene.Height
		if v.Folded || scene.Height < 2*foldedHeight {
			head(s, y+scene.Height/2, l.Name, drawing.Bold, drawing.Ink, o.Head)
		} else {
			high = max(high, l.head(s, p, v, y, o.Head)-y)
		}
		if _, ok := v.plumb(); ok && high > scene.Height {
			x := o.Head + v.X(v.Plumb)
			s.Line(drawing.Pt(x, y+scene.Height), drawing.Pt(x, y+high), drawing.Fine)
		}
		s.End()
		y += high
	}
	rule(drawing.Thin)
	if _, ok := v.plumb(); ok {
		p.bob(s, v, o.Head, y)
		y += bobHeight
		rule(drawing.Thin)
	}
	s.Line(drawing.Pt(o.Head, 0), drawing.Pt(o.Head, y), drawing.Thin)
	s.Height = y
	return s
}

// head letters one line of a lane's head.
func head(s *drawing.Scene, middle float64, text string, face drawing.Face, c drawing.Colour, wide float64) {
	s.Text(drawing.Text{
		At: drawing.Pt(headPad, middle), V: drawing.Centre, String: drawing.Shorten(text, face, drawing.SizeBody, wide-2*headPad),
		Face: face, Size: drawing.SizeBody, Colour: c,
	})
}

// head is an open lane's: its name, what is measured, and its state at the plumb
// line, else in all; it returns how low that reaches.
func (l Lane) head(s *drawing.Scene, p *Prepared, v View, y, wide float64) float64 {
	head(s, y+3.6, l.Name, drawing.Bold, drawing.Ink, wide)
	at := y + 6.2
	small := func(text string, face drawing.Face, c drawing.Colour) {
		if text == "" {
			return
		}
		at += s.Paragraph(drawing.Paragraph{
			At: drawing.Pt(headPad, at), Width: wide - 2*headPad, Size: drawing.SizeSmall, Leading: 3.9, Spans: []drawing.Span{{Text: text, Face: face, Colour: c}},
		})
	}
	small(l.What(v.System), drawing.Regular, drawing.Ink3)
	read := l.Read(p, v)
	if read.Here == "" {
		small(l.Says(p, v.System).Says, drawing.Regular, drawing.Ink)
		return at + 1
	}
	small(read.Here, drawing.Bold, drawing.Ink)
	small(read.Reference, drawing.Italic, drawing.Pencil)
	return at + 1
}

// bob is the foot of the plumb line with its reading: full size in ink, of the
// reference in pencil italic.
func (p *Prepared) bob(s *drawing.Scene, v View, left, y float64) {
	head(s, y+bobHeight/2, "Plumb line at", drawing.Regular, drawing.Ink, left)
	x := left + v.X(v.Plumb)
	s.Begin(drawing.Group{ID: "plumb-bob", Class: "plumb", Title: "plumb line at " + v.System.Whole(v.Plumb), Data: anchors(float64(v.Plumb), float64(v.Plumb))})
	defer s.End()
	s.Path(drawing.Polygon(
		drawing.Pt(x-0.8, y+1.2), drawing.Pt(x+0.8, y+1.2), drawing.Pt(x+1.3, y+3), drawing.Pt(x+1.1, y+4.6), drawing.Pt(x, y+7.4), drawing.Pt(x-1.1, y+4.6), drawing.Pt(x-1.3, y+3),
	), drawing.Filled(drawing.Ink))
	s.Line(drawing.Pt(x, y), drawing.Pt(x, y+1.4), drawing.Fine)
	r := Reading{Here: v.System.Figure(v.Plumb)}
	if ref := p.ref(v.System, float64(v.Plumb)); ref != "" {
		r.Reference = ref + " on the reference"
	}
	t := drawing.Text{At: drawing.Pt(x+2.6, y+bobHeight/2), V: drawing.Centre, Size: drawing.SizeText, Spans: r.spans()}
	if b := t.Bounds(); b.X+b.W > s.Width-edge {
		t.At.X = x - 2.6 - b.W
		if t.At.X < left+edge { // too wide for either side: the figure alone
			t.Spans, t.At.X = Reading{Here: r.Here}.spans(), x+2.6
		}
	}
	s.Text(t)
}
