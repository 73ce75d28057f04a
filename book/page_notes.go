package book

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/finding"
	"scalewright/stage/measure"
	"scalewright/stock"
	"scalewright/unit"
)

// notes are all findings, and what the figures rest on.
func (b *sheets) notes() {
	f := b.flowOn(pageNotes, "Notes")
	f.head("Findings")
	if len(b.r.Findings) == 0 {
		f.text(drawing.SizeText, plain("None."))
	}
	w := b.o.findings()
	for _, x := range b.r.Findings {
		b.note(f, w, x)
	}
	f.y += 3
	f.head("What the figures rest on")
	for _, s := range b.sources() {
		f.text(drawing.SizeText, plain(s))
	}
}

// note sets one finding with its flag.
func (b *sheets) note(f *flow, w finding.Writer, x finding.Finding) {
	const indent = 9.0
	body := drawing.Paragraph{Width: f.page.body.W - indent, Size: drawing.SizeText, Spans: []drawing.Span{
		plain(sentence(w.Message(x)) + " "), bold(sentence(w.Remedy(x))),
	}}
	place := drawing.Paragraph{Width: f.page.body.W - indent, Size: drawing.SizeSmall, Spans: []drawing.Span{
		faint(capital(x.Severity.String()) + ", " + b.placeWords(x) + "."),
	}}
	f.need(body.Height() + place.Height() + 4)
	left := f.page.body.X
	f.page.scene.Flag(drawing.Flag{Foot: drawing.Pt(left+1, f.y+6.5), Grade: grade(x.Severity), Title: x.Severity.String()})
	body.At = drawing.Pt(left+indent, f.y)
	f.y += f.page.scene.Paragraph(body)
	place.At = drawing.Pt(left+indent, f.y)
	f.y += f.page.scene.Paragraph(place) + 3
}

// sources say, for each kind of figure, what it rests on and how far to trust it.
func (b *sheets) sources() []string {
	r, u := b.r, b.o.System
	var out []string
	if len(r.Design.Outline) > 0 {
		out = append(out, "The outline: "+fmt.Sprintf("%s long on the reference, × %.4g. Each doubt of the outline grows with the enlargement.",
			u.Tenth(unit.Length(r.Enlarge.Reference.X)), r.Enlarge.Ratio))
	}
	out = append(out, ownSources(r, u)...)
	if m := r.Measured; m != nil {
		out = append(out, photoSource(m, u))
	}
	for _, h := range r.Trace.Typed {
		out = append(out, fmt.Sprintf("From %s to %s of the reference the outline was typed, because of %s.",
			u.Tenth(unit.Length(h.From)), u.Tenth(unit.Length(h.To)), h.Because))
	}
	out = append(out, featureNotes(r, u)...)
	for _, p := range r.Design.Shop.Printers {
		c := p.Calibrated
		out = append(out, fmt.Sprintf("%s: outer diameters come out %+.2f ± %.2f mm, bores %+.2f ± %.2f mm (95 times in 100)%s.",
			printerName(r, p.ID), c.Outer.X, 2*c.Outer.U, c.Bore.X, 2*c.Bore.U, guess(!c.Measured)))
	}
	if c := r.Design.Core; c != nil {
		out = append(out, sentence(fmt.Sprintf("The core: %s, %s; %s", c.Stock.Name, c.Stock.Standard, c.Stock.Source)))
		if r.Facts.CoreWidth == nil {
			out = append(out, "Nobody has measured the core: its widest place is taken from the table. Measure it across at several places before the rings are printed, and log it.")
		}
	}
	for _, f := range r.Design.Shop.Filaments {
		if m, ok := stock.FindMaterial(f.Material); ok && f.Density == 0 {
			out = append(out, sentence(fmt.Sprintf("Density of %s, %.2f g/cm³: %s", m.Name, m.Density, m.Source)))
		}
	}
	for _, g := range b.glues() {
		out = append(out, sentence(fmt.Sprintf("Glue, %s: %s", g.Name, g.Source)))
	}
	return append(out,
		"Printing hours and grams are worked out layer by layer from what the printer's file says of its speeds: a guess until you log.",
		b.benchNote(),
		"Lines, borders, title block and projection follow the habits of ISO 128, 129-1, 5457 and 7200; conformity is not claimed.",
	)
}

func (b *sheets) benchNote() string {
	const guess = "Bench hours are common practice, a guess until you log."
	if len(b.r.Finishing.Tasks) == 0 {
		return guess + " Sanding, filling and painting are not in them: the build declares no finish."
	}
	return guess
}

func guess(is bool) string {
	if is {
		return ", a guess until you log"
	}
	return ""
}

// glues are those that the joints use, in the order of the table.
func (b *sheets) glues() []stock.Glue {
	used := map[string]bool{}
	for _, s := range b.r.Division.Seams {
		if !s.Removable {
			used[stock.GlueFor(s.Glue).ID] = true
		}
	}
	var out []stock.Glue
	for _, g := range stock.Glues() {
		if used[g.ID] {
			out = append(out, g)
		}
	}
	return out
}

// photoSource says how the photograph was taken and by what its scale was set.
func photoSource(m *measure.Result, u unit.System) string {
	high := u.Whole(unit.Length(m.Camera.HeightMM))
	if m.Scale.By == measure.ByLength {
		return fmt.Sprintf("The photograph has no mat; one known length set its scale. The camera stood %s above the table, and is taken to have looked straight down, by hand; the length is known to %.1f %%.",
			high, 200*m.Length.U/m.Length.Value)
	}
	return fmt.Sprintf("The photograph was taken from %s above the mat, tilted by %.1f°; %d marks meet the grid to %.2f pixels. %s.",
		high, m.Camera.TiltDeg, m.Grid.Crossings, m.Grid.RMSPx, scaleSource(m.Scale))
}

func scaleSource(s measure.MatScale) string {
	switch off := max(math.Abs(s.X-1), math.Abs(s.Y-1)); {
	case s.By == measure.ByRuler && off >= 0.0005:
		return fmt.Sprintf("Its scale is the ruler's, by which the mat's print is off by up to %.1f %%", 100*off)
	case s.By == measure.ByRuler:
		return "Its scale is the ruler's, and the mat's print agrees"
	case s.By == measure.ByPrint:
		return fmt.Sprintf("Its scale is the mat's print, taken as true to %.1f %%", 200*max(s.UX, s.UY))
	}
	return "Its scale is the mat's print, taken at its word"
}
