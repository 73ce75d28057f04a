package lane

import (
	"cmp"
	"slices"
	"strconv"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
)

// ballRadius is that of an item's ball, mm of paper.
const ballRadius = 3.2

func numbered(id string, n int) string { return id + "-" + strconv.Itoa(n) }

// balls number every piece below the body (ISO 6433, part references: figures
// in circles of one size in a row, each on a leader to its part).
func balls(s *drawing.Scene, p plot, r job.Result, y, width float64) {
	type item struct {
		n   int
		tip drawing.Point
		x   float64
	}
	var row []item
	for i, c := range r.Carved {
		var at drawing.Point
		if r.Division.Pieces[i].Own {
			at = visiblePlace(r, i, p.side)
		} else {
			tip := inMaterial(c, r.Division.Pieces[i])
			at = p.at(tip.Station, -tip.Radius)
		}
		row = append(row, item{i + 1, at, at.X})
	}
	if len(row) == 0 {
		return
	}
	slices.SortStableFunc(row, func(a, b item) int { return cmp.Compare(a.tip.X, b.tip.X) })
	least, most := ballRadius+1, width-ballRadius-1
	pitch := min(2*ballRadius+1.2, (most-least)/float64(max(1, len(row)-1)))
	xs := make([]float64, len(row))
	for i := range row {
		xs[i] = row[i].x
	}
	spread(xs, pitch, least, most)
	radius := min(ballRadius, pitch/2-0.2)
	size := min(drawing.SizeBody, radius*1.05)
	s.Begin(drawing.Group{ID: "items", Class: "items", Title: "Items of the parts list"})
	defer s.End()
	for i, it := range row {
		centre := drawing.Pt(xs[i], y)
		s.Line(it.tip, drawing.Pt(centre.X, centre.Y-radius), drawing.Fine)
		s.Path(drawing.Circle(it.tip, 0.5), drawing.Filled(drawing.Ink))
		s.Path(drawing.Circle(centre, radius), drawing.Style{Fill: drawing.Sheet, Stroke: drawing.Thin})
		s.Text(drawing.Text{
			At: centre, String: strconv.Itoa(it.n), Face: drawing.Bold, Size: size,
			H: drawing.Middle, V: drawing.Centre,
		})
		s.Link(drawing.Rect{X: centre.X - radius, Y: y - radius, W: 2 * radius, H: 2 * radius}, PageOf(r.Division.Pieces[it.n-1]))
	}
}

// PageOf is the id of a piece's page, to which drawings link.
func PageOf(p model.Piece) string { return "piece." + p.ID.String() }

// inMaterial is a place in the cut material of a piece that no other piece
// hides: the middle of a shell's wall, or of a ring.
func inMaterial(c model.Carved, piece model.Piece) model.Point {
	at := float64(piece.Span.From+piece.Span.To) / 2
	in, out := wallAt(c, at)
	if piece.ID.Kind == model.CollarRing {
		at = float64(c.Reach.From) + 0.3*float64(c.Reach.Length())
		in, out = wallAt(c, at)
	}
	return model.Point{Station: at, Radius: (in + out) / 2}
}

// spread moves places apart to a pitch within bounds, keeping their order and
// as near to where they were as may be, in squares: less the pitch they must
// not fall, so it is an isotonic regression, solved by pooling neighbours that
// are out of order (Ayer et al., Annals of Mathematical Statistics 26, 1955).
func spread(xs []float64, pitch, least, most float64) {
	type pool struct {
		mean float64
		n    int
	}
	var pools []pool
	for i, x := range xs {
		pools = append(pools, pool{x - float64(i)*pitch, 1})
		for k := len(pools) - 1; k > 0 && pools[k].mean < pools[k-1].mean; k-- {
			a, b := pools[k-1], pools[k]
			n := a.n + b.n
			pools = append(pools[:k-1], pool{(a.mean*float64(a.n) + b.mean*float64(b.n)) / float64(n), n})
		}
	}
	i := 0
	for _, p := range pools {
		for range p.n {
			xs[i] = p.mean + float64(i)*pitch
			i++
		}
	}
	within(xs, pitch, least, most)
}

// within pushes places into bounds, keeping the pitch.
func within(xs []float64, pitch, least, most float64) {
	for i := range xs {
		xs[i] = max(xs[i], least)
		if i > 0 {
			xs[i] = max(xs[i], xs[i-1]+pitch)
		}
	}
	for i := len(xs) - 1; i >= 0; i-- {
		xs[i] = min(xs[i], most)
		if i+1 < len(xs) {
			xs[i] = min(xs[i], xs[i+1]-pitch)
		}
	}
}
