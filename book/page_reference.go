package book

import (
	"fmt"

	"scalewright/drawing"
	"scalewright/stage/readings"
)

const pageReference = "reference"

// reference shows what was read by caliper beside all else, and what of the outline
// was trued; where neither was, there is no such page.
func (b *sheets) reference() {
	if len(b.r.Readings.Taken)+len(b.r.Trued.Moved)+len(b.r.Trued.Edges) == 0 {
		return
	}
	p := b.add(pageReference, "The reference", false)
	x, y, w := p.body.X, p.body.Y, p.body.W
	y = p.text(x, y, w, drawing.SizeHead, bold("The reference")) + 2
	words := "Stations and readings in mm of the reference, what moved in mm at full size. Both outlines, as measured and as trued, stand in report.json."
	if next := NextReading(b.r.Readings.Next, b.r.Enlarge.Ratio); next != "" {
		words += " To be read next: " + next + "."
	}
	y = p.text(x, y, w, drawing.SizeText, plain(words)) + 3
	for _, t := range []drawing.Table{b.readTable(w), b.truedTable(w), b.perhapsTable(w)} {
		if len(t.Rows) > 0 && y+t.Height() < p.body.Y+p.body.H {
			p.scene.Table(drawing.Pt(x, y), t)
			y += t.Height() + 5
		}
	}
}

func (b *sheets) readTable(width float64) drawing.Table {
	const figures = 26.0
	t := drawing.Table{ID: "readings", Columns: []drawing.Column{
		{Head: "read by caliper", Width: width - 4*figures},
		{Head: "read", Width: figures, Align: drawing.End},
		{Head: "all else says", Width: figures, Align: drawing.End},
		{Head: "doubts off", Width: figures, Align: drawing.End},
		{Head: "both", Width: figures, Align: drawing.End},
	}}
	for _, r := range b.r.Readings.Taken {
		where := fmt.Sprintf("Diameter at %.1f", r.Reading.Station)
		if r.Reading.Kind == readings.Length {
			where = fmt.Sprintf("Length from %.1f to %.1f", r.Reading.From, r.Reading.To)
		}
		row := []string{where, fmt.Sprintf("%.2f ± %.2f", r.Reading.X, 2*r.U), "", "", "left out"}
		if r.Seen.X > 0 {
			row[2], row[3] = fmt.Sprintf("%.2f ± %.2f", r.Seen.X, 2*r.Seen.U), fmt.Sprintf("%.1f", r.Off)
		}
		if r.Used {
			row[4] = fmt.Sprintf("%.2f ± %.2f", r.Joint.X, 2*r.Joint.U)
		}
		t.Rows = append(t.Rows, drawing.Row{Cells: row})
	}
	return t
}

func (b *sheets) truedTable(width float64) drawing.Table {
	const figures = 30.0
	t := drawing.Table{ID: "trued", Columns: []drawing.Column{
		{Head: "trued", Width: width - 3*figures},
		{Head: "stations", Width: figures, Align: drawing.End},
		{Head: "moved, mm", Width: figures, Align: drawing.End},
		{Head: "of its doubts", Width: figures, Align: drawing.End},
	}}
	for _, m := range b.r.Trued.Moved {
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{
			capital(string(m.Truth)), fmt.Sprintf("%.1f to %.1f", m.From, m.To), fmt.Sprintf("%.2f", float64(m.By)), fmt.Sprintf("%.1f", m.Doubts),
		}})
	}
	for _, e := range b.r.Trued.Edges {
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{
			fmt.Sprintf("Crisp edge, soft by %.2f", e.Size), fmt.Sprintf("%.1f", e.Station), fmt.Sprintf("%.2f", float64(e.By)), "",
		}})
	}
	return t
}

func (b *sheets) perhapsTable(width float64) drawing.Table {
	t := drawing.Table{ID: "perhaps", Columns: []drawing.Column{{Head: "perhaps; nothing of it was taken", Width: width}}}
	for _, says := range SayProposals(b.r.Trued) {
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{capital(says)}})
	}
	return t
}
