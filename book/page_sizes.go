package book

import (
	"fmt"
	"time"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/model"
)

const pageSizes = "sizes"

// sizes shows what the build would take at other ratios.
func (b *sheets) sizes() {
	if len(b.r.Sizes) < 2 {
		return
	}
	p := b.add(pageSizes, "Sizes weighed", false)
	x, y, w := p.body.X, p.body.Y, p.body.W
	y = p.text(x, y, w, drawing.SizeHead, bold("Sizes weighed")) + 2
	y = p.text(x, y, w, drawing.SizeText, plain("The same build at the ratios worth a thought. The size is settled when the first piece is released; until then the ratio in build.yaml may be any of these. Money, hours and dates are estimates.")) + 3
	for _, t := range []drawing.Table{b.sizesTable(w), b.sizesBlocked(w)} {
		if len(t.Rows) > 0 {
			p.scene.Table(drawing.Pt(x, y), t)
			y += t.Height() + 5
		}
	}
	if figure, n := lane.Candidates(b.r, w, p.body.Y+p.body.H-y, b.o.System); n > 0 {
		p.scale = lane.ScaleText(n)
		p.scene.Place(figure, drawing.Pt(x, y), "sizes-")
	}
}

func (b *sheets) sizesTable(width float64) drawing.Table {
	figures := []struct {
		head string
		wide float64
	}{{"ratio", 13}, {"overall", 16}, {"prints", 11}, {"print h", 12}, {"bench h", 15}, {"kg", 9}, {b.r.Design.Shop.Currency, 11}, {"likely", 15}, {"safe", 15}}
	t := drawing.Table{ID: "sizes"}
	rest := width
	for _, f := range figures {
		t.Columns = append(t.Columns, drawing.Column{Head: f.head, Width: f.wide, Align: drawing.End})
		rest -= f.wide
	}
	t.Columns = append(t.Columns, drawing.Column{Head: "because", Width: rest})
	for _, c := range b.r.Sizes {
		if c.Blocked != "" {
			continue
		}
		row := drawing.Row{Cells: []string{
			ratioOf(c), b.o.System.Figure(c.Length), fmt.Sprint(c.Pieces), fmt.Sprintf("%.0f", c.Hours), fmt.Sprintf("%.0f", c.BenchHours),
			fmt.Sprintf("%.1f", c.Mass.Kilograms()), fmt.Sprintf("%.0f", c.Cost), shortDay(c.Likely), shortDay(c.Safe), capital(c.Reason()),
		}}
		if c.Because == model.BecauseDeclared {
			row.Face = drawing.Bold
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// sizesBlocked are those that something stands in the way of.
func (b *sheets) sizesBlocked(width float64) drawing.Table {
	const ratio, overall, because = 13.0, 16.0, 52.0
	t := drawing.Table{ID: "sizes-blocked", Columns: []drawing.Column{
		{Head: "ratio", Width: ratio, Align: drawing.End},
		{Head: "overall", Width: overall, Align: drawing.End},
		{Head: "because", Width: because},
		{Head: "and why not", Width: width - ratio - overall - because},
	}}
	for _, c := range b.r.Sizes {
		if c.Blocked != "" {
			t.Rows = append(t.Rows, drawing.Row{Cells: []string{
				ratioOf(c), b.o.System.Figure(c.Length), capital(c.Reason()), capital(b.o.findings().Message(c.Obstacle)),
			}})
		}
	}
	return t
}

func ratioOf(c model.Candidate) string { return fmt.Sprintf("%.2f", c.Ratio) }

// shortDay is a date without its year; the page's other dates have it.
func shortDay(date string) string {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return date
	}
	return t.Format("2 Jan")
}
