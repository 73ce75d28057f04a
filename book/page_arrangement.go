package book

import (
	"fmt"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/model"
	"scalewright/unit"
)

// arrangement is the general arrangement: the elevation with its dimensions,
// the joints and the parts list, on one large sheet; what the lists have left
// goes on to others.
func (b *sheets) arrangement() {
	if lane.Whole(b.r).Length() <= 0 {
		return
	}
	p := b.add(pageArrangement, "General arrangement", true)
	block := b.block(p, 0).Height()
	// The title block stands only to the right, so that the body reaches the
	// frame beside it.
	p.body.H += block
	scene, n := b.fitElevation(p.body.W, p.body.H-block-24)
	p.scale = lane.ScaleText(n)
	p.scene.Place(scene, drawing.Pt(p.body.X+(p.body.W-scene.Width)/2, p.body.Y-2), "")
	y := p.body.Y + scene.Height
	y = p.text(p.body.X, y, p.body.W, drawing.SizeBody, plain(
		b.elevationWords()+" Scale "+p.scale+". Figures in balls are the items of the parts list.")) + 4

	parts, joints := b.partsTable(), b.jointsTable()
	right := drawing.Rect{W: parts.Width()}
	right.X = p.area.X + p.area.W - right.W - 3
	right.Y, right.H = y, p.area.Y+p.area.H-block-2-y
	left := drawing.Rect{X: p.body.X, Y: y, W: right.X - p.body.X - 6}
	left.H = p.body.Y + p.body.H - y - drawing.CheckBarHeight - 9
	if left.W < joints.Width() { // a small sheet: the lists have their own
		if parts.Height() > right.H {
			right.H = 0
			room := drawing.Rect{X: p.body.X, Y: y, W: p.body.W, H: p.area.Y + p.area.H - block - drawing.CheckBarHeight - 4 - y}
			b.saidAgain(p, room)
			p.scene.CheckBar(drawing.Pt(room.X, room.Y+room.H+4), checkNote)
		}
	} else {
		var first drawing.Table
		first, joints = joints.Split(left.H)
		if first.Height() <= left.H && len(first.Rows) > 0 {
			used := p.scene.Table(drawing.Pt(left.X, left.Y), first) + 6
			left.Y, left.H = left.Y+used, left.H-used
		} else {
			joints = b.jointsTable()
		}
		b.saidAgain(p, left)
	}
	if first, rest := parts.Split(right.H); first.Height() <= right.H {
		p.scene.Table(drawing.Pt(right.X, p.area.Y+p.area.H-block-first.Height()-2), first)
		parts = rest
	}
	b.legend(p, p.area.X+p.area.W-drawing.TitleWidth-p.body.X-6)
	b.restOf(parts, joints)
}

// saidAgain is the verdict, for whoever reads the arrangement on the wall.
func (b *sheets) saidAgain(p *sheet, room drawing.Rect) {
	const width = 150.0
	v := Say(b.r, b.o.System)
	says := drawing.Paragraph{Width: min(width, room.W), Size: drawing.SizeText, Spans: v.Says}
	const head = 11.0
	if head+says.Height() > room.H {
		return
	}
	y := p.text(room.X, room.Y, says.Width, drawing.SizeTitle, bold(v.Heading)) + 1.5
	says.At = drawing.Pt(room.X, y)
	y += p.scene.Paragraph(says) + 3
	for _, f := range b.r.Verdict.Worst {
		high := b.flagged(p, f, drawing.Pt(room.X, y), says.Width, true)
		if y+high > room.Y+room.H {
			return
		}
		y += b.flagged(p, f, drawing.Pt(room.X, y), says.Width, false)
	}
	if v.Now != "" && y+6 < room.Y+room.H {
		p.text(room.X, y, says.Width, drawing.SizeText, plain("Print now: "), bold(v.Now))
	}
}

// fitElevation is the elevation at the largest usual scale that fits.
func (b *sheets) fitElevation(width, height float64) (*drawing.Scene, float64) {
	least := float64(lane.Whole(b.r).Length()) / (width - 2*lane.Pad)
	n := lane.Reduction(least)
	for {
		scene := lane.Arrangement(b.lanes, b.whole(n))
		if scene.Height <= height {
			return scene, n
		}
		n = lane.Reduction(n * 1.001)
	}
}

// elevationWords say what the arrangement shows.
func (b *sheets) elevationWords() string {
	if len(b.r.Design.Outline) == 0 {
		return "Elevation, seen from the side."
	}
	return "Elevation, upper half outside, lower half in section."
}

const checkNote = "100 mm check bar. Lay a rule on it; if it is not 100, print again at 100 %."

// legend is the check bar and whose figures are whose, beside the title block.
func (b *sheets) legend(p *sheet, width float64) {
	bottom := p.area.Y + p.area.H - 4
	y := bottom - drawing.CheckBarHeight
	if width < 104 {
		return
	}
	p.scene.CheckBar(drawing.Pt(p.body.X, y), checkNote)
	if width < 175 {
		return
	}
	at := drawing.Rect{X: p.body.X + 116, Y: y - 2, W: width - 116}
	y = p.text(at.X, at.Y, at.W, drawing.SizeSmall, drawing.Span{Text: "blue italic", Face: drawing.Italic, Colour: drawing.Pencil},
		plain(" of the reference: grows with the enlargement")) + 1
	p.text(at.X, y, at.W, drawing.SizeSmall, plain("upright ink of the shop: stays as it is"))
}

// restOf sets what the arrangement had no room for.
func (b *sheets) restOf(parts, joints drawing.Table) {
	if len(parts.Rows)+len(joints.Rows) == 0 {
		return
	}
	f := b.flowOn(pageParts, "Parts list")
	f.page.level = 1
	if len(parts.Rows) > 0 {
		f.head("Parts list")
		f.table(parts)
	}
	if len(joints.Rows) > 0 {
		f.head("Joints")
		f.table(joints)
	}
}

// partsTable lists the prints; each row leads to the piece's page.
func (b *sheets) partsTable() drawing.Table {
	t := drawing.Table{ID: "parts-list", Size: drawing.SizeBody, Columns: []drawing.Column{
		{Head: "item", Width: 11, Face: drawing.Bold},
		{Head: "piece", Width: 56},
		{Head: "on", Width: 29},
		{Head: "long", Width: 20, Align: drawing.End},
		{Head: "across", Width: 20, Align: drawing.End},
		{Head: "h", Width: 13, Align: drawing.End},
		{Head: "g", Width: 15, Align: drawing.End},
	}}
	u := b.o.System
	for i, p := range b.r.Prints {
		piece, c := b.r.Division.Pieces[i], b.r.Carved[i]
		long, across := u.Figure(c.Reach.Length()), u.Figure(c.Diameter)
		if piece.ID.Kind == model.Slice {
			across = u.Figure(acrossLine(b.r, i))
		}
		t.Rows = append(t.Rows, drawing.Row{To: lane.PageOf(piece), Cells: []string{
			fmt.Sprint(i + 1), pieceName(b.r, piece), printerName(b.r, p.Printer), long,
			across, fmt.Sprintf("%.1f", p.Minutes.Hours()), fmt.Sprintf("%.0f", float64(p.Grams)),
		}})
	}
	if len(t.Rows) > 0 {
		v := b.r.Verdict
		t.Rows = append(t.Rows, drawing.Row{Face: drawing.Bold, Cells: []string{
			"all", fmt.Sprintf("%d prints", v.Prints), "", "", "", fmt.Sprintf("%.1f", v.PrintHours), fmt.Sprintf("%.0f", float64(v.Grams)),
		}})
	}
	return t
}

// jointsTable lists where two pieces meet.
func (b *sheets) jointsTable() drawing.Table {
	t := drawing.Table{ID: "joints", Size: drawing.SizeBody, Columns: []drawing.Column{
		{Head: "joint at", Width: 20, Align: drawing.End},
		{Head: "between", Width: 50},
		{Head: "kind", Width: 31},
		{Head: "deep", Width: 15, Align: drawing.End},
		{Head: "clearance", Width: 21, Align: drawing.End},
		{Head: "held by", Width: 37},
	}}
	u := b.o.System
	for _, s := range b.r.Division.Seams {
		deep, clear := "", ""
		if s.Engage > 0 {
			deep = u.Figure(s.Engage)
		}
		if fits := b.r.Fits.Of(s.ID); len(fits) > 0 {
			clear = u.Fine(unit.Length(fits[0].Clearance.X))
		}
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{
			u.Figure(s.Station), b.named(s.Below) + " and " + b.named(s.Above), string(s.Kind), deep, clear, heldBy(s),
		}})
	}
	return t
}

func (b *sheets) named(id model.PieceID) string {
	p, _ := b.r.Division.Piece(id)
	return p.Name
}
