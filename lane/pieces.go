package lane

import (
	"fmt"
	"strconv"

	"scalewright/drawing"
	"scalewright/model"
	"scalewright/unit"
)

const (
	boxHeight  = 9.4
	boxGap     = 1.6
	boxLeast   = 15.0 // mm across a box off the axis
	boxMost    = 46.0
	mostRows   = 6 // of boxes off the axis
	boxLetters = drawing.SizeSmall
)

// printBox is one box of the lane: a print, or several of one kind.
type printBox struct {
	id, name string
	pieces   []int
	from, to float64
	printer  string
	minutes  unit.Minutes
	grams    unit.Mass
	logged   bool
}

// boxOf gathers prints into one box.
func (p *Prepared) boxOf(id, name string, pieces ...int) printBox {
	b := printBox{id: id, name: name, pieces: pieces, logged: true}
	for n, i := range pieces {
		print := p.Prints[i]
		from, to := float64(p.stretch[i].From), float64(p.stretch[i].To)
		if n == 0 {
			b.from, b.to, b.printer = from, to, printerName(p.Result, print.Printer)
		}
		b.from, b.to = min(b.from, from), max(b.to, to)
		if printerName(p.Result, print.Printer) != b.printer {
			b.printer = "several"
		}
		b.minutes += print.Minutes
		b.grams += print.Grams
		b.logged = b.logged && print.Logged
	}
	return b
}

func (b printBox) figures() string {
	return fmt.Sprintf("%s  %.0f g", unit.Duration(b.minutes), float64(b.grams))
}

func (b printBox) says() string {
	out := fmt.Sprintf("%s, on %s, %s, %.0f g", b.name, b.printer, unit.Duration(b.minutes), float64(b.grams))
	if b.logged {
		out += ", printed"
	}
	return out
}

// Pieces is a box for each print under its place: name, printer, hours, grams.
// What is no stretch of the body stands in further rows, copies in one box.
func Pieces(p *Prepared, v View) *drawing.Scene {
	const title = "Pieces"
	switch {
	case len(p.Prints) == 0 || len(p.Prints) != len(p.stretch):
		return empty(v, title, "No pieces yet: the build is not divided.")
	case v.Folded:
		return folded(v, title, saysPieces(p, v.System), readPieces(p, v))
	}
	if s, ok := p.opened(v, title); !ok {
		return s
	}
	rows := p.packBoxes(v)
	height := boxGap + (boxHeight+boxGap)*float64(len(rows))
	if len(p.shells) > 0 {
		height += boxHeight + boxGap
	}
	s := v.paper(height)
	s.Title, s.Desc = title, saysPieces(p, v.System).Says
	p.underlay(s, v)
	y := boxGap
	for _, i := range p.shells {
		piece := p.Division.Pieces[i]
		if !v.touches(float64(piece.Span.From), float64(piece.Span.To)) {
			continue
		}
		a, b := max(edge, v.X(piece.Span.From)), min(s.Width-edge, v.X(piece.Span.To))
		box := p.boxOf("print-"+piece.ID.String(), piece.Name, i)
		p.drawBox(s, v, box, drawing.Rect{X: a + 0.2, Y: y, W: max(b-a-0.4, 0.2), H: boxHeight}, p.tints[i])
	}
	if len(p.shells) > 0 {
		y += boxHeight + boxGap
	}
	for _, row := range rows {
		for _, b := range row {
			p.drawBox(s, v, b.printBox, drawing.Rect{X: b.x, Y: y, W: b.wide, H: boxHeight}, drawing.Field)
		}
		y += boxHeight + boxGap
	}
	hang(s, v)
	return s
}

// offAxis are the boxes of what is no stretch of the body: copies of a part in
// one, and all rings in one where they are many.
func (p *Prepared) offAxis(v View, ringsTogether bool) []printBox {
	var out []printBox
	declared := map[string]string{}
	for _, part := range p.Design.Parts {
		declared[part.ID] = part.Declared
	}
	byKey := map[string][]int{}
	var keys []string
	for _, i := range p.others {
		if !v.touches(float64(p.stretch[i].From), float64(p.stretch[i].To)) {
			continue
		}
		id := p.Division.Pieces[i].ID
		key := "one " + id.String()
		switch {
		case ringsTogether && id.Kind == model.CoreRing:
			key = "rings"
		case declared[id.Part] != "":
			key = "copies " + declared[id.Part] + " " + id.From + " " + string(id.Kind)
		}
		if byKey[key] == nil {
			keys = append(keys, key)
		}
		byKey[key] = append(byKey[key], i)
	}
	for _, key := range keys {
		list := byKey[key]
		first := p.Division.Pieces[list[0]]
		name := first.Name
		switch {
		case key == "rings" && len(list) > 1:
			name = strconv.Itoa(len(list)) + " core rings"
		case len(list) > 1:
			name = strconv.Itoa(len(list)) + " × " + declared[first.ID.Part]
		}
		out = append(out, p.boxOf("print-"+first.ID.String(), name, list...))
	}
	return out
}

// placedBox is a box with its place across the lane.
type placedBox struct {
	printBox

	x, wide float64
}

// packBoxes lays the boxes off the axis into rows, each as near to its stations as
// the others let it.
func (p *Prepared) packBoxes(v View) [][]placedBox {
	rows, ok := p.tryBoxes(v, false, 2)
	if !ok {
		rows, ok = p.tryBoxes(v, true, 2)
	}
	if !ok {
		rows, _ = p.tryBoxes(v, true, mostRows)
	}
	return rows
}

func (p *Prepared) tryBoxes(v View, ringsTogether bool, most int) ([][]placedBox, bool) {
	room := v.paper(1).Width - 2*edge
	var rows [][]placedBox
	ends := []float64{}
	fill := []float64{}
	left := 0
	for _, b := range p.offAxis(v, ringsTogether) {
		wide := 2 + max(drawing.Measure(b.name, drawing.Bold, boxLetters), drawing.Measure(b.figures(), drawing.Regular, boxLetters))
		wide = min(max(boxLeast, wide), boxMost, room)
		x := v.X(unit.Length(b.from+b.to)/2) - wide/2
		best := -1
		for k := range rows { // the first row whose last box leaves the place free, else the emptiest with room
			switch {
			case fill[k]+wide+boxGap > room:
			case best < 0, ends[k]+boxGap <= x && ends[best]+boxGap > x, ends[best]+boxGap > x && ends[k] < ends[best]:
				best = k
			}
		}
		if (best < 0 || ends[best]+boxGap > x) && len(rows) < most {
			rows, ends, fill = append(rows, nil), append(ends, -1e9), append(fill, 0)
			best = len(rows) - 1
		}
		if best < 0 {
			left++
			continue
		}
		rows[best] = append(rows[best], placedBox{b, x, wide})
		ends[best] = max(ends[best], x) + wide
		fill[best] += wide + boxGap
	}
	for _, row := range rows {
		xs, gaps := make([]float64, len(row)), make([]float64, max(0, len(row)-1))
		for k, b := range row {
			xs[k] = b.x
			if k < len(gaps) {
				gaps[k] = b.wide + boxGap
			}
		}
		spreadBy(xs, gaps, edge, edge+room-row[len(row)-1].wide)
		for k := range row {
			row[k].x = xs[k]
		}
	}
	return rows, left == 0
}

// drawBox letters what fits into the box, the name first.
func (p *Prepared) drawBox(s *drawing.Scene, v View, b printBox, at drawing.Rect, fill drawing.Colour) {
	begin(s, b.id, "print", b.says(), b.from, b.to)
	defer s.End()
	st := drawing.Object
	for _, i := range b.pieces {
		if v.Selected != "" && p.Division.Pieces[i].ID.String() == v.Selected {
			st = st.Wide(drawing.FrameWidth)
		}
	}
	s.Rect(at, drawing.Style{Fill: fill, Stroke: st})
	room := at.W - 1.8
	put := func(x, y float64, h drawing.HAlign, text string, face drawing.Face, c drawing.Colour) {
		s.Text(drawing.Text{At: drawing.Pt(x, y), String: text, Face: face, Size: boxLetters, V: drawing.Centre, H: h, Colour: c})
	}
	name := drawing.Shorten(b.name, drawing.Bold, boxLetters, room)
	if len([]rune(name)) < 3 && name != b.name {
		return
	}
	y := at.Y + 2.9
	put(at.X+0.9, y, drawing.Start, name, drawing.Bold, drawing.Ink)
	side := b.printer
	if b.logged {
		side = "printed"
	}
	used := drawing.Measure(name, drawing.Bold, boxLetters) + 1.5
	if name == b.name && used+drawing.Measure(side, drawing.Regular, boxLetters) <= room {
		put(at.X+at.W-0.9, y, drawing.End, side, drawing.Regular, drawing.Ink2)
	}
	for _, text := range [...]string{b.figures(), unit.Duration(b.minutes)} {
		if drawing.Measure(text, drawing.Regular, boxLetters) <= room {
			put(at.X+0.9, at.Y+6.6, drawing.Start, text, drawing.Regular, drawing.Ink)
			return
		}
	}
}

func saysPieces(p *Prepared, _ unit.System) Summary {
	var grams unit.Mass
	var minutes unit.Minutes
	for _, print := range p.Prints {
		grams += print.Grams
		minutes += print.Minutes
	}
	out := Summary{Says: fmt.Sprintf("%d prints, %s, %.0f h", len(p.Prints), kilograms(grams), minutes.Hours())}
	if i, ok := p.pieceOf(p.Verdict.Tonight); ok {
		out.Remark = p.Division.Pieces[i].Name + " prints tonight"
	}
	return out
}

// readPieces is the piece at the plumb line: the one that shows outside.
func readPieces(p *Prepared, v View) Reading {
	at, ok := v.plumb()
	if !ok || len(p.Prints) != len(p.stretch) {
		return Reading{}
	}
	for _, list := range [...][]int{p.shells, p.others} {
		for _, i := range list {
			if at >= float64(p.stretch[i].From) && at <= float64(p.stretch[i].To) {
				return Reading{Here: p.Division.Pieces[i].Name + ", " + unit.Duration(p.Prints[i].Minutes)}
			}
		}
	}
	return Reading{Here: "no piece here"}
}

// byStation are all pieces: those that show outside first, each kind by station.
func (p *Prepared) byStation() []int {
	return append(append([]int{}, p.shells...), p.others...)
}

// PiecesTable lists the prints.
func PiecesTable(p *Prepared, u unit.System) Table {
	t := table(saysPieces(p, u).Says, "piece", "what", "printer", "stands on", "#from", "#long", "#hours", "#grams", "#layers")
	if len(p.Prints) != len(p.stretch) || len(p.Carved) != len(p.stretch) {
		return t
	}
	for _, i := range p.byStation() {
		piece, print := p.Division.Pieces[i], p.Prints[i]
		t.row(
			piece.Name, string(piece.ID.Kind), printerName(p.Result, print.Printer), standsOn(piece), u.Whole(p.stretch[i].From),
			u.Whole(p.Carved[i].Reach.Length()), strconv.FormatFloat(print.Minutes.Hours(), 'f', 1, 64),
			strconv.FormatFloat(float64(print.Grams), 'f', 0, 64), strconv.Itoa(print.Layers),
		)
	}
	return t
}
