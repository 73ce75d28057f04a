package book

import (
	"fmt"

	"scalewright/drawing"
	"scalewright/finding"
	"scalewright/lane"
)

// verdict is the first page: what a maker has to know in ten seconds.
func (b *sheets) verdict() {
	p := b.add(pageVerdict, "Verdict", false)
	v := Say(b.r, b.o.System)
	x, y, w := p.body.X, p.body.Y, p.body.W
	if b.r.Invented != "" {
		y = p.text(x, y, w, drawing.SizeBody, bold("An invented example: "), plain(b.r.Invented+".")) + 3
	}
	y = p.text(x, y, w, 9, bold(v.Heading)) + 2.5
	y = p.text(x, y, w, 5.2, v.Says...) + 2
	if b.r.Verdict.Prints > 0 {
		y = p.text(x, y, w, drawing.SizeSmall, faint("The date is what the plan gives; how far plans like it slip is not known until hours are logged. Hours and grams are estimates until a piece is printed.")) + 3
	}
	p.scene.Line(drawing.Pt(x, y), drawing.Pt(x+w, y), drawing.Thin)
	y += 4
	const share = 0.46
	high := p.body.Y + p.body.H - y
	figure, n := lane.Standing(b.r, w*share, high-6, b.o.System)
	if n > 0 {
		p.scale = lane.ScaleText(n)
		p.scene.Place(figure, drawing.Pt(x, y), "standing-")
		p.text(x, y+high-4, w*share, drawing.SizeCaption, faint("each line "+b.o.System.Whole(lane.Lines(b.o.System))))
	}
	b.worst(p, v, drawing.Rect{X: x + w*share + 6, Y: y, W: w*(1-share) - 6, H: high})
}

// worst are the worst findings with their cures, and what to print now.
func (b *sheets) worst(p *sheet, v Verdict, box drawing.Rect) {
	y := box.Y
	writer := b.o.findings()
	found := b.r.Verdict.Worst
	title := "Nothing is known to stand against it."
	switch n := len(found); {
	case n == 1:
		title = "One thing to know. Here is its cure."
	case n > 1:
		title = capital(small(n)) + " things to know. Here is each cure."
	}
	y = p.text(box.X, y, box.W, drawing.SizeHead, bold(title)) + 3
	for _, f := range found {
		p.scene.Flag(drawing.Flag{Foot: drawing.Pt(box.X+1, y+6.5), Grade: grade(f.Severity), Title: f.Severity.String()})
		y = p.text(box.X+8, y, box.W-8, drawing.SizeText, plain(sentence(writer.Message(f))))
		if remedy := writer.Remedy(f); remedy != "" {
			y = p.text(box.X+8, y+0.6, box.W-8, drawing.SizeText, bold(sentence(remedy)))
		}
		y += 3
	}
	if more := len(b.r.Findings) - len(found); more > 0 {
		at := drawing.Rect{X: box.X, Y: y, W: box.W, H: 6}
		y = p.text(box.X, y, box.W, drawing.SizeText, plain(fmt.Sprintf("And %s in the notes.", count(more, "smaller one", "smaller ones")))) + 2
		p.scene.Link(at, pageNotes)
	}
	y += 2
	p.scene.Line(drawing.Pt(box.X, y), drawing.Pt(box.X+box.W, y), drawing.LaneRule)
	y = b.nowBox(p, v, box, y+3)
	b.shares(p, box, y+3)
}

// nowBox says what to print now, and leads to its page.
func (b *sheets) nowBox(p *sheet, v Verdict, box drawing.Rect, y float64) float64 {
	top := y
	y = p.text(box.X, y, box.W, drawing.SizeBody, faint("Print this one now")) + 0.6
	if v.Now != "" {
		y = p.text(box.X, y, box.W, drawing.SizeHead, bold(v.Now)) + 0.6
	}
	y = p.text(box.X, y, box.W, drawing.SizeText, plain(v.Because)) + 2
	for _, piece := range b.r.Division.Pieces {
		if piece.ID.String() == b.r.Verdict.Tonight {
			p.scene.Link(drawing.Rect{X: box.X, Y: top, W: box.W, H: y - top}, lane.PageOf(piece))
		}
	}
	return y
}

// shares is what each printer is asked to do, and what the core needs.
func (b *sheets) shares(p *sheet, box drawing.Rect, y float64) {
	if b.r.Verdict.Prints == 0 {
		return
	}
	t := drawing.Table{ID: "printers", Columns: []drawing.Column{
		{Head: "printer", Width: box.W - 38},
		{Head: "prints", Width: 16, Align: drawing.End},
		{Head: "hours", Width: 22, Align: drawing.End},
	}}
	for _, s := range b.r.Verdict.ByPrinter {
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{printerName(b.r, s.Printer), fmt.Sprint(s.Prints), hours(s.Hours)}})
	}
	t.Rows = append(t.Rows, drawing.Row{Face: drawing.Bold, Cells: []string{
		"all", fmt.Sprint(b.r.Verdict.Prints), hours(b.r.Verdict.PrintHours),
	}})
	y += p.scene.Table(drawing.Pt(box.X, y), t) + 4
	words := fmt.Sprintf("The prints weigh %s.", mass(b.r.Verdict.Grams))
	if c := b.r.Design.Core; c != nil {
		words += fmt.Sprintf(" The core is %s, sawn to %s.", c.Stock.Name, b.o.System.Whole(c.Span.Length()))
	}
	p.text(box.X, y, box.W, drawing.SizeText, plain(words))
}

// sentence begins with a capital and ends in a full stop.
func sentence(s string) string {
	s = capital(s)
	if s != "" && s[len(s)-1] != '.' {
		s += "."
	}
	return s
}

// placeWords say where a finding stands.
func (b *sheets) placeWords(f finding.Finding) string {
	words := b.o.findings().Position(f.At).String()
	if f.Part != "" {
		words = f.Part + ", " + words
	}
	if f.HasPlace {
		words += ", at " + b.o.System.Whole(f.Station)
	}
	return words
}
