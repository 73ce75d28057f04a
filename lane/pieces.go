package lane

import (
	"fmt"
	"slices"
	"strconv"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

const (
	boxHeight = 11.0
	boxGap    = 1.6
)

// Pieces is a box for each print under its place: name, printer, hours, grams.
// Collars and rings stand in a second row.
func Pieces(r job.Result, v View) *drawing.Scene {
	if len(r.Prints) == 0 {
		return empty(v, "Pieces", "No pieces yet: the build is not divided.")
	}
	if v.Folded {
		var grams unit.Mass
		for _, p := range r.Prints {
			grams += p.Grams
		}
		return folded(v, "Pieces", fmt.Sprintf("%d prints, %.1f kg", len(r.Prints), grams.Kilograms()))
	}
	outer := shells(r)
	var inner []int
	for i := range r.Prints {
		if !slices.Contains(outer, i) {
			inner = append(inner, i)
		}
	}
	height := boxHeight + 2*boxGap
	if len(inner) > 0 {
		height += boxHeight + boxGap
	}
	s := drawing.New(v.Width, height)
	s.Title = "Pieces"
	for k, i := range outer {
		piece := r.Division.Pieces[i]
		from, to := v.X(piece.Span.From), v.X(piece.Span.To)
		pieceBox(s, r, i, drawing.Rect{X: from + 0.2, Y: boxGap, W: max(to-from-0.4, 1), H: boxHeight}, tint(k))
	}
	for k, b := range innerBoxes(r, v, inner) {
		pieceBox(s, r, inner[k], b, drawing.Field)
	}
	return s
}

// innerBoxes stand as near to their stations as they can without overlap.
func innerBoxes(r job.Result, v View, inner []int) []drawing.Rect {
	if len(inner) == 0 {
		return nil
	}
	wide := min(30, (v.Width-2)/float64(len(inner))-boxGap)
	xs := make([]float64, len(inner))
	for k, i := range inner {
		span := stretchOf(r, i)
		xs[k] = v.X((span.From+span.To)/2) - wide/2
	}
	order := make([]int, len(inner))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case xs[a] < xs[b]:
			return -1
		case xs[a] > xs[b]:
			return 1
		}
		return 0
	})
	sorted := make([]float64, len(xs))
	for n, k := range order {
		sorted[n] = xs[k]
	}
	spread(sorted, wide+boxGap, 1, v.Width-wide-1)
	out := make([]drawing.Rect, len(inner))
	for n, k := range order {
		out[k] = drawing.Rect{X: sorted[n], Y: 2*boxGap + boxHeight, W: wide, H: boxHeight}
	}
	return out
}

// pieceBox letters what fits into the box, the name first.
func pieceBox(s *drawing.Scene, r job.Result, i int, b drawing.Rect, fill drawing.Colour) {
	piece, p := r.Division.Pieces[i], r.Prints[i]
	printer := printerName(r, p.Printer)
	said := fmt.Sprintf("%s, on %s, %s, %.0f g", piece.Name, printer, unit.Duration(p.Minutes), float64(p.Grams))
	s.Begin(drawing.Group{ID: "print-" + piece.ID.String(), Class: "print", Role: "img", Title: said})
	defer s.End()
	s.Rect(b, drawing.Style{Fill: fill, Stroke: drawing.Object})
	figures := fmt.Sprintf("%s  %.0f g", unit.Duration(p.Minutes), float64(p.Grams))
	lines := []struct {
		text string
		face drawing.Face
	}{{piece.Name, drawing.Bold}, {printer, drawing.Regular}, {figures, drawing.Regular}}
	for k, l := range lines {
		text := drawing.Shorten(l.text, l.face, drawing.SizeSmall, b.W-1.6)
		if len([]rune(text)) < 3 && text != l.text {
			continue
		}
		s.Text(drawing.Text{
			At: drawing.Pt(b.X+0.8, b.Y+2.2+float64(k)*3.4), String: text, Face: l.face, Size: drawing.SizeSmall, V: drawing.Centre,
		})
	}
}

// PiecesTable lists the prints by station.
func PiecesTable(r job.Result, u unit.System) Table {
	t := Table{Heads: []string{"piece", "what", "printer", "stands on", "from", "long", "hours", "grams", "layers"}}
	for i, p := range r.Prints {
		piece := r.Division.Pieces[i]
		t.Rows = append(t.Rows, []string{
			piece.Name, string(piece.ID.Kind), printerName(r, p.Printer), standsOn(piece), u.Whole(stretchOf(r, i).From),
			u.Whole(r.Carved[i].Reach.Length()), strconv.FormatFloat(p.Minutes.Hours(), 'f', 1, 64),
			strconv.FormatFloat(float64(p.Grams), 'f', 0, 64), strconv.Itoa(p.Layers),
		})
	}
	return t
}

func printerName(r job.Result, id string) string {
	if p, ok := r.Design.Shop.Printer(id); ok && p.Name != "" {
		return p.Name
	}
	return id
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
