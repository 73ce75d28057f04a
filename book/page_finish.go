package book

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

const pageFinish = "finish"

// finishing is the way from print to painted: how rough, how often, with what, and
// what stays bare.
func (b *sheets) finishing() {
	f := b.r.Finishing
	if len(f.Surfaces) == 0 {
		return
	}
	l := b.flowOn(pageFinish, "Finish")
	l.head("Finish")
	area, deepest := 0.0, unit.Length(0)
	for _, s := range f.Surfaces {
		area += s.Area / 1e6
		deepest = max(deepest, s.Depth)
	}
	l.text(drawing.SizeText, plain(fmt.Sprintf(
		"%.2f m² are seen. They come off the printers up to %s deep; to look right %s they are primed and sanded %s. All coats add %s to a face. %s",
		area, u3(deepest), seenFrom(b.r.Design.Finish.Grade), timesWords(f.Cycles), u3(f.Film), rateWords(f.Rate))))
	l.text(drawing.SizeSmall, bold("Take care. "), plain("Sanding dust: P2 or N95 mask, P100 for filler and primer; wet where you can, lightly, since friction softens the plastic. Cans: outdoors or with extraction, cartridge for organic vapour and dust, no flame or spark near. Never spray two-part paint with isocyanate hardener without an air-fed mask. Follow the labels and local rules."))
	l.y += 2
	for _, r := range f.Routes {
		l.need(routeRoom)
		l.text(drawing.SizeText, bold(r.Group+". "), plain(routeWords(r)))
		l.table(routeTable(r, l.page.body.W))
		l.y += 2
	}
	l.text(drawing.SizeText, bold("To have ready"), plain(", about "+money(f.Money, f.Currency)+"; prices are a guess"))
	l.table(b.needTable(l.page.body.W))
	l.y += 3
	l.table(surfaceTable(b.r, l.page.body.W))
	l.y += 3
	l.table(maskTable(f.Masks, l.page.body.W))
}

// routeRoom is the height of a route's words and first rows, kept together.
const routeRoom = 30

func routeWords(r model.Route) string {
	words := fmt.Sprintf("%.2f m², up to %s deep; %s of bench work", r.Area/1e6, u3(r.Depth), unit.Duration(r.Bench))
	if r.Filler >= 1 {
		words += fmt.Sprintf("; %.0f ml of putty", r.Filler)
	}
	return words + "; the coats add " + u3(r.Film)
}

func routeTable(r model.Route, width float64) drawing.Table {
	t := drawing.Table{ID: "route-" + r.Group, Columns: []drawing.Column{
		{Head: "operation", Width: width - 105},
		{Head: "to grit", Width: 16, Align: drawing.End},
		{Head: "passes", Width: 16, Align: drawing.End},
		{Head: "times", Width: 18, Align: drawing.End},
		{Head: "hands on", Width: 30, Align: drawing.End},
		{Head: "then dry", Width: 25, Align: drawing.End},
	}}
	for _, o := range r.Operations {
		dry := ""
		if o.Dry > 0 {
			dry = unit.Duration(o.Dry)
		}
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{
			o.Does, some(o.Grit), some(o.Coats), fmt.Sprint(o.Tasks), unit.Duration(o.Bench), dry,
		}})
	}
	return t
}

// some is a number, or nothing for none.
func some(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

// u3 is a film or a roughness in micrometres.
func u3(l unit.Length) string { return fmt.Sprintf("%.0f µm", float64(l)*1000) }

func seenFrom(g model.Grade) string {
	switch g {
	case model.StageGrade:
		return "across a room"
	case model.CloseGrade:
		return "through a camera"
	}
	return "at arm's length"
}

func timesWords(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return small(n) + " times"
}

func rateWords(rate float64) string {
	if rate == 1 {
		return "Hours of sanding are a guess until you log."
	}
	return fmt.Sprintf("Sanding takes %.1f times the usual rates, from your log.", rate)
}

func (b *sheets) needTable(width float64) drawing.Table {
	t := drawing.Table{ID: "needs", Columns: []drawing.Column{
		{Head: "what", Width: width - 120},
		{Head: "how much", Width: 40, Align: drawing.End},
		{Head: "m² in all", Width: 25, Align: drawing.End},
		{Head: "ml", Width: 25, Align: drawing.End},
		{Head: "about", Width: 30, Align: drawing.End},
	}}
	for _, n := range b.r.Finishing.Needs {
		c := stock.MustCoating(n.Coating)
		name, volume := c.Name, ""
		if n.Grit > 0 {
			name = fmt.Sprintf("%s, %d grit", name, n.Grit)
		}
		if n.Volume > 0 {
			volume = fmt.Sprintf("%.0f", math.Ceil(n.Volume))
		}
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{
			name, fmt.Sprintf("%d × %s", n.Units, c.Unit), fmt.Sprintf("%.1f", n.Area), volume, money(n.Money, b.r.Finishing.Currency),
		}})
	}
	return t
}

func surfaceTable(r job.Result, width float64) drawing.Table {
	t := drawing.Table{ID: "surfaces", Columns: []drawing.Column{
		{Head: "piece", Width: width - 90},
		{Head: "seen, dm²", Width: 30, Align: drawing.End},
		{Head: "95 in 100, µm", Width: 30, Align: drawing.End},
		{Head: "mean, µm", Width: 30, Align: drawing.End},
	}}
	for _, s := range r.Finishing.Surfaces {
		p, _ := r.Division.Piece(s.Piece)
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{
			pieceName(r, p), fmt.Sprintf("%.1f", s.Area/1e4), fmt.Sprintf("%.0f", math.Round(float64(s.Depth)*1000)), fmt.Sprintf("%.0f", math.Round(float64(s.Mean)*1000)),
		}})
	}
	return t
}

func maskTable(masks []model.Mask, width float64) drawing.Table {
	t := drawing.Table{ID: "masks", Columns: []drawing.Column{{Head: "keep free of paint", Width: width * 0.48}, {Head: "because", Width: width * 0.52}}}
	for _, m := range masks {
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{m.What, m.Why}})
	}
	return t
}
