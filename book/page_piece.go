package book

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// piece is the page that lies beside the printer and then on the bench.
func (b *sheets) piece(i int) {
	piece := b.r.Division.Pieces[i]
	f := b.flowOn(lane.PageOf(piece), piece.Name)
	p := f.page
	p.level = 1
	p.mark = fmt.Sprintf("%d  %s", i+1, pieceName(b.r, piece))
	x, w := p.body.X, p.body.W
	care := drawing.Paragraph{Width: w, Size: drawing.SizeSmall, Spans: []drawing.Span{bold("Take care. "), plain(care(b.r, i))}}
	care.At = drawing.Pt(x, p.body.Y+p.body.H-care.Height())
	p.scene.Paragraph(care)
	f.keep = care.Height() + 2
	b.pieceHead(f, i)

	table, steps := b.joinTable(i), b.steps(i)
	room := f.left() - b.benchHeight(table, steps, w)
	if high := min(picturesHigh, room-closeFacts); high >= picturesLeast+picturesRim {
		room -= high
	}
	b.pieceDrawing(f, i, room)
	if len(table.Rows) > 0 {
		f.head(benchHead)
		f.table(table)
		f.y -= 2
		f.note(benchNote)
		f.y++
	}
	for k, s := range steps {
		said := drawing.Paragraph{Width: w - stepIndent, Size: drawing.SizeText, Spans: drawing.Plainly(s)}
		f.need(said.Height())
		f.page.text(x, f.y, stepIndent, drawing.SizeText, bold(fmt.Sprint(k+1)))
		said.At = drawing.Pt(x+stepIndent, f.y)
		f.y += f.page.scene.Paragraph(said) + 1
	}
	b.pictures(f, i)
}

// Height of the pictures of a piece with their captions, mm; the least height of a
// picture that says anything; and what captions and gaps take.
const (
	picturesHigh  = 52.0
	picturesLeast = 26.0
	picturesRim   = pictureCaption + pictureGap/2

	pictureCaption = 5.0
	pictureGap     = 8.0
)

// pictures shows the piece from above and from below as it stands on its platform,
// where the page has room left.
func (b *sheets) pictures(f *flow, i int) {
	const caption, gap = pictureCaption, pictureGap
	high := min(f.left(), picturesHigh) - picturesRim
	if high < picturesLeast {
		return
	}
	wide := (f.page.body.W - gap) / 2
	for n, words := range [...]string{"As it stands on its platform", "The same from below"} {
		scene := lane.Picture(b.r, i, wide, high, n == 1)
		if scene == nil {
			return
		}
		x := f.page.body.X + float64(n)*(wide+gap)
		top := f.y + gap/2 + (high-scene.Height)/2
		f.page.scene.Place(scene, drawing.Pt(x, top), fmt.Sprintf("picture-%d-", n))
		f.page.scene.Text(drawing.Text{
			At: drawing.Pt(x+wide/2, f.y+gap/2+high+caption-1), String: words, Size: drawing.SizeCaption, H: drawing.Middle, Colour: drawing.Ink3,
		})
	}
	f.y += gap/2 + high + caption
}

const (
	benchHead  = "What it joins, and what to measure"
	benchNote  = "Diameters in mm; the doubt holds 95 times in 100. Measure cold, with a caliper, at four places round; write the mean in the last column and log it."
	stepIndent = 6.0
)

// benchHeight is what table and steps take of a page.
func (b *sheets) benchHeight(t drawing.Table, steps []string, width float64) float64 {
	high := 4.0
	if len(t.Rows) > 0 {
		note := drawing.Paragraph{Width: width, Size: drawing.SizeSmall, Spans: drawing.Plainly(benchNote)}
		high += t.Height() + note.Height() + 17
	}
	for _, s := range steps {
		high += drawing.Paragraph{Width: width - stepIndent, Size: drawing.SizeText, Spans: drawing.Plainly(s)}.Height() + 1
	}
	return high
}

// pieceHead is the piece's item, its name, and where it sits.
func (b *sheets) pieceHead(f *flow, i int) {
	const ball, key, indent = 5.0, 52.0, 14.0
	piece, p := b.r.Division.Pieces[i], f.page
	x, y, w := p.body.X, p.body.Y, p.body.W
	p.scene.Path(drawing.Circle(drawing.Pt(x+ball, y+ball), ball), drawing.Lined(drawing.Object))
	p.scene.Text(drawing.Text{
		At: drawing.Pt(x+ball, y+ball), String: fmt.Sprint(i + 1), Face: drawing.Bold, Size: drawing.SizeHead,
		H: drawing.Middle, V: drawing.Centre,
	})
	name := pieceName(b.r, piece)
	room := w - indent - key - 3
	size := drawing.SizeTitle
	if wide := drawing.Measure(name, drawing.Bold, size); wide > room {
		size = max(drawing.SizeHead, size*room/wide)
	}
	below := p.text(x+indent, y-0.5, room, size, bold(name))
	p.scene.Place(lane.Key(b.r, i, key, 13), drawing.Pt(x+w-key, y-1), "key-")
	f.y = max(y+13, below+1)
	along := "the build"
	if piece.Own {
		along = "its own line"
	}
	where := fmt.Sprintf("Part %s, from %s to %s along %s. ", piece.ID.Part, b.o.System.Whole(piece.Span.From), b.o.System.Whole(piece.Span.To), along)
	top := f.y
	f.text(drawing.SizeText, plain(where), faint("Item "+fmt.Sprint(i+1)+" of the arrangement."))
	p.scene.Link(drawing.Rect{X: x, Y: top, W: w, H: f.y - top}, pageArrangement)
	f.y += 1.5
}

// Least and most height of the piece's drawing, mm.
const (
	leastDrawing = 70.0
	mostDrawing  = 150.0
	roomyFacts   = 112.0 // below, the particulars stand closer
	closeFacts   = 88.0  // what those take
)

// pieceDrawing is the half-section, what is seen from above where there is
// room, and the particulars of the print beside them.
func (b *sheets) pieceDrawing(f *flow, i int, room float64) {
	const facts = 44.0
	p, x, w := f.page, f.page.body.X, f.page.body.W
	high := min(max(room, leastDrawing), mostDrawing)
	scene, n := lane.PieceView(b.r, i, w-facts-2, high, b.o.System)
	p.scale = lane.ScaleText(n)
	p.scene.Place(scene, drawing.Pt(x, f.y), "")
	used := scene.Height
	if plan := lane.Plan(b.r, i, scene.Width, high-used, n); plan != nil {
		// First angle: what is seen from above stands below.
		p.scene.Place(plan, drawing.Pt(x, f.y+used), "plan-")
		used += plan.Height
	}
	bottom := b.facts(p, i, drawing.Rect{X: x + w - facts, Y: f.y, W: facts}, room < roomyFacts)
	f.y = max(f.y+used, bottom) + 3
}

// facts are the particulars of the print, one under another.
func (b *sheets) facts(p *sheet, i int, box drawing.Rect, compact bool) float64 {
	piece, made := b.r.Division.Pieces[i], b.r.Prints[i]
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
	y, size, gap := box.Y, drawing.SizeText, 1.6
	if compact {
		size, gap = drawing.SizeBody, 0.3
	}
	for _, f := range [...][2]string{
		{"Stands on", standsOn(piece)},
		{"Printer", printerName(b.r, made.Printer)},
		{"Filament", filament},
		{"Printing, " + took, unit.Duration(made.Minutes)},
		{"Weighs", mass(made.Grams)},
		{"Layers", fmt.Sprintf("%d of %s, line %s", made.Layers, u.Fine(printer.Layer), u.Fine(printer.Line))},
		{"Support", support},
		{"On the platform", b.onPlatform(i)},
		{"Print file", piece.ID.String() + ".3mf"},
	} {
		y = p.text(box.X, y, box.W, drawing.SizeCaption, faint(f[0])) + 0.2
		y = p.text(box.X, y, box.W, size, plain(f[1])) + gap
	}
	return y
}

// onPlatform is the room that a piece takes on its platform.
func (b *sheets) onPlatform(i int) string {
	u, box := b.o.System, b.r.Prints[i].Box
	if b.r.Division.Pieces[i].ID.Kind == model.Slice {
		return fmt.Sprintf("%s by %s, %s high", u.Figure(box[0]), u.Figure(box[1]), u.Figure(box[2]))
	}
	return fmt.Sprintf("⌀ %s, %s high", u.Figure(b.r.Carved[i].Diameter), u.Figure(box[2]))
}

func standsOn(p model.Piece) string {
	switch p.Direction {
	case model.NoseDown:
		return "its nose"
	case model.Lying:
		return "its face"
	case model.FootDown:
	}
	return "its foot"
}

// joinTable lists what the piece meets, with room for readings.
func (b *sheets) joinTable(i int) drawing.Table {
	t := drawing.Table{ID: "joins", Columns: []drawing.Column{
		{Head: "where", Width: 25},
		{Head: "meets", Width: 31},
		{Head: "held by", Width: 36},
		{Head: "deep", Width: 13, Align: drawing.End},
		{Head: "print ⌀", Width: 16, Align: drawing.End},
		{Head: "comes out ⌀", Width: 27, Align: drawing.End},
		{Head: "read ⌀", Width: 16},
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
			b.placeOf(piece, f, inner), b.meets(other), b.holds(f), b.o.System.Figure(f.Depth),
			fmt.Sprintf("%.2f", float64(own.Nominal)), fmt.Sprintf("%.2f ± %.2f", own.Actual.X, 2*own.Actual.U), reading,
		}})
	}
	for _, s := range b.r.Division.Seams {
		if s.Flat() && (s.Below == piece.ID || s.Above == piece.ID) {
			where, other := "foot, flat", s.Below
			if s.Below == piece.ID {
				where, other = "nose, flat", s.Above
			}
			t.Rows = append(t.Rows, drawing.Row{Cells: []string{where, b.named(other), heldBy(s), "", "", "", ""}})
		}
	}
	return t
}

// reading is room for a figure to be written in by hand.
const reading = "_______"

// placeOf says which end of the piece a fit is at.
func (b *sheets) placeOf(p model.Piece, f model.Fit, inner bool) string {
	end := "inside"
	switch {
	case f.Station <= p.Span.From:
		end = "foot"
	case f.Station >= p.Span.To:
		end = "nose"
	}
	switch {
	case p.ID.Kind == model.Bush && inner:
		return "bore"
	case p.ID.Kind == model.Bush:
		return "outside"
	case p.ID.Kind == model.CoreRing && inner:
		return "bore"
	case p.ID.Kind == model.CoreRing:
		return "outside"
	case p.ID.Kind == model.CollarRing:
		for _, s := range b.r.Division.Seams {
			if s.ID == f.Seam && s.Below.String() == f.Female {
				return "outside, below"
			}
		}
		return "outside, above"
	case inner && f.Male == "core":
		return "bore"
	case p.ID.Kind == model.Panel:
		return "edges, across the arc"
	case b.opening(f):
		return "opening, across the arc"
	case b.tongue(f) && inner:
		return "slot"
	case b.tongue(f):
		return "tongue"
	case inner:
		return end + ", socket"
	}
	return end + ", spigot"
}

func (b *sheets) meets(id string) string {
	if id == "post" {
		return "post, " + b.r.Design.Stand.Post.Name
	}
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
// opening and tongue are fits off the axis: their figures are widths, no diameters.
func (b *sheets) opening(f model.Fit) bool {
	return slices.ContainsFunc(b.r.Division.Windows, func(w model.Window) bool { return w.Opening.ID == f.Seam })
}

func (b *sheets) tongue(f model.Fit) bool {
	return slices.ContainsFunc(b.r.Division.Tabs, func(t model.Tab) bool { return t.ID == f.Seam })
}

func (b *sheets) holds(f model.Fit) string {
	if f.Male == "core" || f.Male == "post" {
		return "slides on"
	}
	for _, s := range b.r.Division.Seams {
		if s.ID == f.Seam {
			return heldBy(s)
		}
	}
	if b.opening(f) {
		return b.fasteners(f.Seam) + ", comes off"
	}
	for _, t := range b.r.Division.Tabs {
		if t.ID != f.Seam {
			continue
		}
		for _, m := range b.r.Design.Mounts {
			if m.ID == t.Mount {
				return heldBy(model.Seam{Glue: m.Glue, Removable: m.Removable})
			}
		}
	}
	return "glue, " + stock.GlueFor("").Name
}

// fasteners are what holds a mount or a panel, as bought.
func (b *sheets) fasteners(of string) string {
	var words []string
	for _, x := range b.r.Division.BoughtFor(of) {
		words = append(words, fmt.Sprintf("%d × %s", x.Count, x))
	}
	return strings.Join(words, ", ")
}

func heldBy(s model.Seam) string {
	if s.Removable {
		return "comes apart, no glue"
	}
	return "glue, " + stock.GlueFor(s.Glue).Name
}

// steps are what to do with the piece, in order.
func (b *sheets) steps(i int) []string {
	piece, made := b.r.Division.Pieces[i], b.r.Prints[i]
	way := "standing on " + standsOn(piece)
	if piece.Direction == model.Lying {
		way = "lying flat"
	}
	out := []string{fmt.Sprintf("Print it %s on %s, without turning or scaling the file.", way, printerName(b.r, made.Printer))}
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
		g := stock.GlueFor(s.Glue)
		out = append(out, fmt.Sprintf("Glue it on %s with %s: %s to place it, then leave it for %s.",
			b.named(s.Below), g.Name, unit.Duration(g.Work), unit.Duration(g.Cure)))
	}
	for _, s := range b.r.Division.Seats {
		if s.Ring == piece.ID {
			out = append(out, fmt.Sprintf("Glue it into %s, square to the axis, and let the core slide in it.", b.named(s.Host)))
		}
	}
	return out
}
