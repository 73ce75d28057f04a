package book

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// piece is the page that lies beside the printer and then on the bench.
func (b *sheets) piece(i int) {
	piece := b.r.Division.Pieces[i]
	p := b.add(lane.PageOf(piece), piece.Name, false)
	p.level = 1
	p.mark = fmt.Sprintf("%d  %s", i+1, pieceName(b.r, piece))
	x, y, w := p.body.X, p.body.Y, p.body.W
	const ball = 5.0
	p.scene.Path(drawing.Circle(drawing.Pt(x+ball, y+ball), ball), drawing.Lined(drawing.Object))
	p.scene.Text(drawing.Text{
		At: drawing.Pt(x+ball, y+ball), String: fmt.Sprint(i + 1), Face: drawing.Bold, Size: drawing.SizeHead,
		H: drawing.Middle, V: drawing.Centre,
	})
	name := pieceName(b.r, piece)
	size := drawing.SizeTitle
	if wide := drawing.Measure(name, drawing.Bold, size); wide > w-14 {
		size = max(drawing.SizeHead, size*(w-14)/wide)
	}
	p.text(x+14, y-0.5, w-14, size, bold(drawing.Shorten(name, drawing.Bold, size, w-14)))
	y += 13
	where := fmt.Sprintf("Part %s, from %s to %s along the build. ", piece.ID.Part, b.o.System.Whole(piece.Span.From), b.o.System.Whole(piece.Span.To))
	line := drawing.Rect{X: x, Y: y, W: w, H: 5}
	y = p.text(x, y, w, drawing.SizeText, plain(where), faint("Item "+fmt.Sprint(i+1)+" of the arrangement.")) + 3
	p.scene.Link(line, pageArrangement)

	const facts = 48.0
	high := min(128, p.body.H*0.52)
	scene, n := lane.HalfSection(b.r, i, w-facts-2, high, b.o.System)
	p.scale = lane.ScaleText(n)
	p.scene.Place(scene, drawing.Pt(x, y), "")
	bottom := b.facts(p, i, drawing.Rect{X: x + w - facts, Y: y, W: facts})
	y = max(y+scene.Height, bottom) + 4

	if t := b.joinTable(i); len(t.Rows) > 0 {
		y = p.text(x, y, w, drawing.SizeHead, bold("What it joins, and what to measure")) + 1.5
		y += p.scene.Table(drawing.Pt(x, y), t) + 2.5
		y = p.text(x, y, w, drawing.SizeSmall, faint("Diameters in mm; the doubt holds 95 times in 100. Measure cold, with a caliper, at four places round; write the mean in the last column and log it.")) + 3
	}
	for k, s := range b.steps(i) {
		y = p.text(x, y, 6, drawing.SizeText, bold(fmt.Sprint(k+1)))
		y -= drawing.Paragraph{Width: 6, Size: drawing.SizeText, Spans: drawing.Plainly("1")}.Height()
		y = p.text(x+6, y, w-6, drawing.SizeText, plain(s)) + 1
	}
	care := drawing.Paragraph{Width: w, Size: drawing.SizeSmall, Spans: []drawing.Span{bold("Take care. "), plain(b.care(i))}}
	care.At = drawing.Pt(x, p.body.Y+p.body.H-care.Height())
	p.scene.Paragraph(care)
}

// facts are the particulars of the print, one under another.
func (b *sheets) facts(p *sheet, i int, box drawing.Rect) float64 {
	piece, made, carved := b.r.Division.Pieces[i], b.r.Prints[i], b.r.Carved[i]
	printer, _ := b.r.Design.Shop.Printer(made.Printer)
	u := b.o.System
	filament := piece.Filament
	if f, ok := b.r.Design.Shop.Filament(piece.Filament); ok && f.Name != "" {
		filament = f.Name
	}
	took := "estimated"
	if made.Logged {
		took = "as logged"
	}
	support := "none needed"
	if made.Overhang > 0 {
		support = fmt.Sprintf("%.1f cm² hang over", made.Overhang/100)
	}
	y := box.Y
	for _, f := range [...][2]string{
		{"Stands on", standsOn(piece)},
		{"Printer", printerName(b.r, made.Printer)},
		{"Filament", filament},
		{"Printing, " + took, unit.Duration(made.Minutes)},
		{"Weighs", mass(made.Grams)},
		{"Layers", fmt.Sprintf("%d of %s", made.Layers, u.Fine(printer.Layer))},
		{"Nozzle, line", fmt.Sprintf("%s, %s", u.Fine(printer.Nozzle), u.Fine(printer.Line))},
		{"Support", support},
		{"On the platform", fmt.Sprintf("%s × %s × %s", u.Figure(made.Box[0]), u.Figure(made.Box[1]), u.Figure(made.Box[2]))},
		{"Thinnest wall", u.Fine(carved.Wall)},
		{"Print file", piece.ID.String() + ".3mf"},
	} {
		y = p.text(box.X, y, box.W, drawing.SizeCaption, faint(f[0])) + 0.2
		y = p.text(box.X, y, box.W, drawing.SizeText, plain(f[1])) + 1.6
	}
	return y
}

func standsOn(p model.Piece) string {
	if p.Direction == model.NoseDown {
		return "its nose"
	}
	return "its foot"
}

// joinTable lists what the piece meets, with room for readings.
func (b *sheets) joinTable(i int) drawing.Table {
	t := drawing.Table{ID: "joins", Columns: []drawing.Column{
		{Head: "where", Width: 24},
		{Head: "meets", Width: 41},
		{Head: "held by", Width: 29},
		{Head: "deep", Width: 14, Align: drawing.End},
		{Head: "print ⌀", Width: 17, Align: drawing.End},
		{Head: "comes out ⌀", Width: 24, Align: drawing.End},
		{Head: "read ⌀", Width: 15},
	}}
	last := len(t.Columns) - 1
	t.Columns[last].Width += b.o.Paper.small().Width - 210 // what a wider paper leaves
	piece := b.r.Division.Pieces[i]
	id := piece.ID.String()
	for _, f := range b.r.Fits.Fits {
		if f.Male != id && f.Female != id {
			continue
		}
		own, other, inner := f.MaleSize, f.Female, false
		if f.Female == id {
			own, other, inner = f.Bore, f.Male, true
		}
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{
			placeOf(piece, f, inner), b.meets(other), b.holds(f), b.o.System.Figure(f.Depth),
			fmt.Sprintf("%.2f", float64(own.Nominal)), fmt.Sprintf("%.2f ± %.2f", own.Actual.X, 2*own.Actual.U), "",
		}})
	}
	for _, s := range b.r.Division.Seams {
		if s.Kind == model.Butt && (s.Below == piece.ID || s.Above == piece.ID) {
			where, other := "foot, flat", s.Below
			if s.Below == piece.ID {
				where, other = "nose, flat", s.Above
			}
			t.Rows = append(t.Rows, drawing.Row{Cells: []string{where, b.named(other), heldBy(s), "", "", "", ""}})
		}
	}
	return t
}

// placeOf says which end of the piece a fit is at.
func placeOf(p model.Piece, f model.Fit, inner bool) string {
	end := "inside"
	switch {
	case f.Station <= p.Span.From:
		end = "foot"
	case f.Station >= p.Span.To:
		end = "nose"
	}
	switch {
	case p.ID.Kind == model.CoreRing && inner:
		return "bore"
	case p.ID.Kind != model.Shell:
		return "outside"
	case inner && f.Male == "core":
		return "bore"
	case inner:
		return end + ", socket"
	}
	return end + ", spigot"
}

func (b *sheets) meets(id string) string {
	if id == "core" {
		return "core, " + b.r.Design.Core.Stock.Name
	}
	for _, p := range b.r.Division.Pieces {
		if p.ID.String() == id {
			return p.Name
		}
	}
	return id
}

// holds says what holds a fit together.
func (b *sheets) holds(f model.Fit) string {
	if f.Male == "core" {
		return "slides on"
	}
	for _, s := range b.r.Division.Seams {
		if s.ID == f.Seam {
			return heldBy(s)
		}
	}
	return "glue, " + plannedGlue().Name
}

// plannedGlue is what the calendar counts on where the maker named no glue.
func plannedGlue() stock.Glue {
	g, _ := stock.FindGlue("epoxy")
	return g
}

func glueOf(s model.Seam) stock.Glue {
	if g, ok := stock.FindGlue(s.Glue); ok {
		return g
	}
	return plannedGlue()
}

func heldBy(s model.Seam) string {
	if s.Removable {
		return "comes apart, no glue"
	}
	return "glue, " + glueOf(s).Name
}

// steps are what to do with the piece, in order.
func (b *sheets) steps(i int) []string {
	piece, made := b.r.Division.Pieces[i], b.r.Prints[i]
	out := []string{fmt.Sprintf("Print it standing on %s on %s, without turning or scaling the file.", standsOn(piece), printerName(b.r, made.Printer))}
	id := piece.ID.String()
	worst := math.Inf(-1)
	for _, f := range b.r.Fits.Fits {
		if f.Male == id || f.Female == id {
			worst = max(worst, f.Bind)
		}
	}
	if !math.IsInf(worst, -1) {
		say := "Try it dry. It goes together unsanded " + times(1-worst) + " at its tightest joint; where it binds, sand the inner of the two."
		out = append(out, say)
	}
	for _, s := range b.r.Division.Seams {
		if s.Above != piece.ID || s.Removable {
			continue
		}
		g := glueOf(s)
		out = append(out, fmt.Sprintf("Glue it on %s with %s: %s to place it, then leave it for %s.",
			b.named(s.Below), g.Name, unit.Duration(g.Work), unit.Duration(g.Cure)))
	}
	return out
}

// care is one line of cautions: those that this piece's work calls for.
func (b *sheets) care(i int) string {
	piece := b.r.Division.Pieces[i]
	words := "Ventilate the room while it prints. Sand wet, or wear a P2 or N95 mask."
	for _, s := range b.r.Division.Seams {
		if (s.Below == piece.ID || s.Above == piece.ID) && !s.Removable {
			words += " Keep glue off skin and eyes: gloves and glasses."
			break
		}
	}
	if piece.ID.Kind == model.CoreRing {
		words += " Saw the pipe slowly, without heat: hot PVC gives off poisonous fumes."
	}
	return words + " Follow local rules."
}
