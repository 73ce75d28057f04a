package book

import (
	"fmt"

	"scalewright/drawing"
	"scalewright/finding"
	"scalewright/job"
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
		y = p.text(x, y, w, drawing.SizeSmall, faint("The dates count in that work takes longer than it was guessed and that prints fail: both guesses until you log. Hours and grams are estimates until a piece is printed.")) + 3
	}
	p.scene.Line(drawing.Pt(x, y), drawing.Pt(x+w, y), drawing.Thin)
	y += 4
	const share = 0.46
	high := p.body.Y + p.body.H - y
	figure, n := lane.Standing(b.r, w*share, high-6, b.o.System)
	if n > 0 {
		p.scale = lane.ScaleText(n)
		p.scene.Place(figure, drawing.Pt(x, y), "standing-")
		if len(b.r.Design.Outline) > 0 {
			p.text(x, y+figure.Height-4, w*share, drawing.SizeCaption, faint("each line "+b.o.System.Whole(lane.Lines(b.o.System))))
		}
	}
	b.worst(p, v, drawing.Rect{X: x + w*share + 6, Y: y, W: w*(1-share) - 6, H: high})
}

// worst are the worst findings with their cures, and what to print now. What
// finds no room is said in the notes.
func (b *sheets) worst(p *sheet, v Verdict, box drawing.Rect) {
	found := b.r.Verdict.Worst
	title := worstTitle(b.r)
	y := p.text(box.X, box.Y, box.W, drawing.SizeHead, bold(title)) + 3
	for k, f := range found {
		high := b.flagged(p, f, drawing.Pt(box.X, y), box.W, true)
		if k > 0 && y+high+nowHeight(v, box.W) > box.Y+box.H {
			found = found[:k]
			break
		}
		y += b.flagged(p, f, drawing.Pt(box.X, y), box.W, false)
	}
	if more := len(b.r.Findings) - found.Count(finding.Blocker) - found.Count(finding.Caution); more > 0 {
		at := drawing.Rect{X: box.X, Y: y, W: box.W, H: 6}
		y = p.text(box.X, y, box.W, drawing.SizeText, plain(fmt.Sprintf("And %s in the notes.", count(more, "more", "more")))) + 2
		p.scene.Link(at, pageNotes)
	}
	y += 2
	p.scene.Line(drawing.Pt(box.X, y), drawing.Pt(box.X+box.W, y), drawing.LaneRule)
	y = b.nowBox(p, v, box, y+3)
	b.shares(p, box, y+3)
}

// worstTitle says whether something stands in the way, or may only go wrong.
func worstTitle(r job.Result) string {
	found := r.Verdict.Worst
	certain := found.Count(finding.Blocker) + found.Count(finding.Caution)
	switch n := len(found); {
	case n == 0:
		return "Nothing stands against it."
	case certain == 0 && n == 1:
		return "Nothing stands against it. One thing may go wrong."
	case certain == 0:
		return "Nothing stands against it. " + capital(small(n)) + " things may go wrong."
	case n == 1:
		return "One thing to know. Here is its cure."
	}
	return capital(small(len(found))) + " things to know. Here is each cure."
}

// nowLines are what stands under the findings: the piece to print now and the
// slice to try first.
func nowLines(v Verdict) []drawing.Paragraph {
	lines := []drawing.Paragraph{{Size: drawing.SizeBody, Spans: []drawing.Span{faint("Print this one now")}}}
	if v.Now != "" {
		lines = append(lines, drawing.Paragraph{Size: drawing.SizeHead, Spans: []drawing.Span{bold(v.Now)}})
	}
	lines = append(lines, drawing.Paragraph{Size: drawing.SizeText, Spans: []drawing.Span{plain(v.Because)}})
	if v.Try != "" {
		lines = append(lines, drawing.Paragraph{Size: drawing.SizeText, Spans: []drawing.Span{bold("Try this first: "), plain(v.Try + ".")}})
	}
	return lines
}

const (
	nowGap  = 0.6 // mm between those lines
	nowRule = 7.0 // mm that the rule above them takes
)

// nowHeight is the room they take in a column, mm.
func nowHeight(v Verdict, width float64) float64 {
	high := nowRule
	for _, line := range nowLines(v) {
		line.Width = width
		high += line.Height() + nowGap
	}
	return high
}

// flagged sets a finding and its cure beside its flag, and returns the height;
// with measure nothing is drawn.
func (b *sheets) flagged(p *sheet, f finding.Finding, at drawing.Point, width float64, measure bool) float64 {
	const indent = 8.0
	w := b.o.findings()
	says := drawing.Paragraph{At: at.Add(drawing.Pt(indent, 0)), Width: width - indent, Size: drawing.SizeText, Spans: []drawing.Span{plain(sentence(w.Message(f)))}}
	do := drawing.Paragraph{Width: width - indent, Size: drawing.SizeText, Spans: []drawing.Span{bold(sentence(w.Remedy(f)))}}
	do.At = says.At.Add(drawing.Pt(0, says.Height()+0.6))
	high := says.Height() + 3
	if w.Remedy(f) != "" {
		high += do.Height() + 0.6
	}
	if measure {
		return high
	}
	p.scene.Flag(drawing.Flag{Foot: at.Add(drawing.Pt(1, 6.5)), Grade: grade(f.Severity), Title: f.Severity.String()})
	p.scene.Paragraph(says)
	if w.Remedy(f) != "" {
		p.scene.Paragraph(do)
	}
	return high
}

// nowBox says what to print now, and leads to its page.
func (b *sheets) nowBox(p *sheet, v Verdict, box drawing.Rect, y float64) float64 {
	top := y
	for _, line := range nowLines(v) {
		if line.At, line.Width = drawing.Pt(box.X, y), box.W; y+line.Height() > box.Y+box.H {
			break // the slice stands in the report and in its files
		}
		y += p.scene.Paragraph(line) + nowGap
	}
	for _, piece := range b.r.Division.Pieces {
		if piece.ID.String() == b.r.Verdict.Tonight {
			p.scene.Link(drawing.Rect{X: box.X, Y: top, W: box.W, H: y - top}, lane.PageOf(piece))
		}
	}
	return y + nowGap
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
	if y+t.Height() > box.Y+box.H {
		return // the parts list says the same, piece by piece
	}
	y += p.scene.Table(drawing.Pt(box.X, y), t) + 4
	words := fmt.Sprintf("The prints weigh %s.", mass(b.r.Verdict.Grams))
	if c := b.r.Design.Core; c != nil {
		words += fmt.Sprintf(" The core is %s, sawn to %s.", c.Stock.Name, b.o.System.Whole(c.Span.Length()))
	}
	last := drawing.Paragraph{At: drawing.Pt(box.X, y), Width: box.W, Size: drawing.SizeText, Spans: drawing.Plainly(words)}
	if y+last.Height() <= box.Y+box.H {
		p.scene.Paragraph(last)
	}
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
