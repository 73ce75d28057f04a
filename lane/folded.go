package lane

import (
	"cmp"
	"slices"

	"scalewright/drawing"
	"scalewright/model"
	"scalewright/unit"
)

// foldedHeight is the height of a folded lane, mm: one line of lettering.
const foldedHeight = 7.0

const (
	foldedGap   = 3.0  // between the words of a folded lane
	leastFolded = 12.0 // mm; a summary in less room says nothing
)

// folded is a lane's one line: its summary, the reading at the plumb line to the
// right of the line, one remark at the right end.
func folded(v View, title string, sum Summary, read Reading) *drawing.Scene {
	s := v.paper(foldedHeight)
	s.Title, s.Desc = title, sum.Says
	s.Begin(drawing.Group{ID: "summary", Class: "summary"})
	defer hang(s, v)
	defer s.End()
	left, right := Pad, s.Width-Pad
	size := drawing.SizeBody
	line := func(x float64, spans ...drawing.Span) drawing.Text {
		return drawing.Text{At: drawing.Pt(x, foldedHeight/2), V: drawing.Centre, Size: size, Spans: spans, Halo: 0.6}
	}
	free := [][2]float64{{left, right}}
	if at, ok := v.plumb(); ok && read.Here != "" {
		t := line(v.X(v.Plumb)+1.6, read.spans()...)
		wide := t.Width()
		if t.At.X+wide > right { // no room to the right of the line
			t.At.X = v.X(v.Plumb) - 1.6 - wide
		}
		_ = at
		if t.At.X >= left {
			s.Text(t)
			free = [][2]float64{{left, t.At.X - foldedGap}, {t.At.X + wide + foldedGap, right}}
		}
	}
	// The remark stands at the right end where there is room, the summary in the
	// wider of what is left.
	last := &free[len(free)-1]
	if t := line(0, drawing.Span{Text: sum.Remark, Colour: sum.colour()}); sum.Remark != "" && t.Width()+leastFolded < last[1]-last[0] {
		t.At.X = last[1] - t.Width()
		s.Text(t)
		last[1] = t.At.X - foldedGap
	}
	room := free[0]
	for _, f := range free[1:] {
		if f[1]-f[0] > room[1]-room[0] && room[1]-room[0] < drawing.Measure(sum.Says, drawing.Regular, size) {
			room = f
		}
	}
	if words := drawing.Shorten(sum.Says, drawing.Regular, size, room[1]-room[0]); room[1]-room[0] > leastFolded || words == sum.Says {
		s.Text(line(room[0], drawing.Span{Text: words}))
	}
	return s
}

func (m Summary) colour() drawing.Colour {
	if m.Alarm {
		return drawing.Signal
	}
	return drawing.Ink3
}

// spans letters a reading: full size in bold ink, the reference in pencil italic.
func (r Reading) spans() []drawing.Span {
	out := []drawing.Span{{Text: r.Here, Face: drawing.Bold}}
	if r.Reference != "" {
		out = append(out, drawing.Span{Text: "  " + r.Reference, Face: drawing.Italic, Colour: drawing.Pencil})
	}
	return out
}

// empty is a lane that has nothing to show yet: one sentence of what would fill it.
func empty(v View, title, words string) *drawing.Scene {
	v.HasPlumb = false
	return folded(v, title, Summary{Says: words}, Reading{})
}

// nowhere is a lane whose view shows nothing of the build.
func nowhere(p *Prepared, v View, title string) *drawing.Scene {
	return empty(v, title, "Nothing of the build lies between "+v.System.Whole(v.Span.From)+" and "+v.System.Whole(v.Span.To)+
		"; it runs from "+v.System.Whole(p.Span.From)+" to "+v.System.Whole(p.Span.To)+".")
}

// opened reports whether a view can show anything; else the scene says why not.
func (p *Prepared) opened(v View, title string) (*drawing.Scene, bool) {
	switch {
	case v.Scale() == 0:
		return empty(v, title, "No room to draw in."), false
	case !v.touches(float64(p.Span.From), float64(p.Span.To)):
		return nowhere(p, v, title), false
	}
	return nil, true
}

// underlay is what lies under a lane through its whole height: the tint of the
// selected span, and a hair at every lettered station of the scale above.
func (p *Prepared) underlay(s *drawing.Scene, v View) {
	p.tintSelected(s, v)
	path := &drawing.Path{}
	from, to := v.seen()
	ticks(from, to, v.Scale(), v.System, 1, func(at float64, _ string, long bool) {
		if x := v.X(unit.Length(at)); long {
			path.Move(drawing.Pt(x, 0)).Line(drawing.Pt(x, s.Height))
		}
	})
	if path.Empty() {
		return
	}
	s.Begin(drawing.Group{ID: "grid", Class: "grid"})
	s.Path(path, drawing.Lined(drawing.Grid))
	s.End()
}

func (p *Prepared) tintSelected(s *drawing.Scene, v View) {
	span, ok := p.selected(v)
	if !ok {
		return
	}
	a, b := max(edge, v.X(span.From)), min(s.Width-edge, v.X(span.To))
	if a < b {
		s.Path(drawing.Box(drawing.Rect{X: a, W: b - a, H: s.Height}), drawing.Filled(drawing.Field))
	}
}

// selected is the stretch of what is selected.
func (p *Prepared) selected(v View) (model.Span, bool) {
	i, ok := p.pieceOf(v.Selected)
	if !ok {
		return model.Span{}, false
	}
	return p.stretch[i], true
}

// pieceOf is the index of the piece with an id.
func (p *Prepared) pieceOf(id string) (int, bool) {
	i, ok := p.byID[id]
	return i, ok
}

// hang draws the plumb line through a lane; it is broken where lettering stands in
// its way, whatever the order of drawing.
func hang(s *drawing.Scene, v View) {
	if _, ok := v.plumb(); !ok {
		return
	}
	x := v.X(v.Plumb)
	type gap struct{ from, to float64 }
	var gaps []gap
	for _, it := range s.Items {
		if t, ok := it.(drawing.Text); ok {
			if b := t.Bounds(); b.W > 0 && b.X-plumbGap < x && x < b.X+b.W+plumbGap {
				gaps = append(gaps, gap{b.Y - plumbGap, b.Y + b.H + plumbGap})
			}
		}
	}
	slices.SortFunc(gaps, func(a, b gap) int { return cmp.Compare(a.from, b.from) })
	path, y := &drawing.Path{}, 0.0
	run := func(to float64) {
		if to > y {
			path.Move(drawing.Pt(x, y)).Line(drawing.Pt(x, min(to, s.Height)))
		}
	}
	for _, g := range gaps {
		run(g.from)
		y = max(y, g.to)
	}
	run(s.Height)
	s.Begin(drawing.Group{ID: "plumb", Class: "plumb"})
	s.Path(path, drawing.Lined(drawing.Fine))
	s.End()
}

// plumbGap is kept between the plumb line and lettering, mm.
const plumbGap = 0.4

// begin opens the group of a mark: its id, what is said aloud, and the stations it
// is anchored at, mm at full size.
func begin(s *drawing.Scene, id, class, says string, from, to float64) {
	s.Begin(drawing.Group{ID: id, Class: class, Role: "img", Title: says, Data: anchors(from, to)})
}
