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
	l.table(b.needTable(l.page.body.W))
	l.y += 3
	l.table(surfaceTable(b.r, l.page.body.W))
	l.y += 3
	l.table(maskTable(f.Masks, l.page.body.W))
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
		{Head: "to have ready", Width: width - 70}, {Head: "how much", Width: 40, Align: drawing.End}, {Head: "m² of coat", Width: 30, Align: drawing.End},
	}}
	for _, n := range b.r.Finishing.Needs {
		c := stock.MustCoating(n.Coating)
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{c.Name, fmt.Sprintf("%d × %s", n.Units, c.Unit), fmt.Sprintf("%.1f", n.Area)}})
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

type finishingJSON struct {
	Cycles   int           `json:"cycles"`
	Film     figure        `json:"film_mm"`
	Bench    int           `json:"bench_min"`
	Rate     figure        `json:"rate"` // hours as logged over those estimated
	Surfaces []surfaceJSON `json:"surfaces"`
	Needs    []needJSON    `json:"needs"`
	Masks    []maskJSON    `json:"masks"`
}

type surfaceJSON struct {
	Piece string `json:"piece"`
	Area  figure `json:"area_mm2"`
	Depth figure `json:"depth_mm"`
	Mean  figure `json:"mean_mm"`
}

type needJSON struct {
	Coating string `json:"coating"`
	Units   int    `json:"units"`
	Area    figure `json:"coated_m2"`
}

type maskJSON struct {
	What string `json:"what"`
	Why  string `json:"why"`
}

func reportFinishing(f model.Finishing) finishingJSON {
	return finishingJSON{
		Cycles: f.Cycles, Film: figure(f.Film), Bench: int(f.Bench), Rate: figure(f.Rate),
		Surfaces: each(f.Surfaces, func(s model.Surface) surfaceJSON {
			return surfaceJSON{s.Piece.String(), figure(s.Area), figure(s.Depth), figure(s.Mean)}
		}),
		Needs: each(f.Needs, func(n model.Need) needJSON { return needJSON{n.Coating, n.Units, figure(n.Area)} }),
		Masks: each(f.Masks, func(m model.Mask) maskJSON { return maskJSON{m.What, m.Why} }),
	}
}
