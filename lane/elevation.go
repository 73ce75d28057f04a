package lane

import (
	"fmt"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// Rows above the body, mm of paper.
const (
	overallRow = 7.0
	chainRow   = 15.0
	bodyTop    = 21.0
	itemRow    = 11.0 // below the body, to the middle of the item balls
	belowBody  = 6.0
)

// Elevation draws the build lying, datum to the left: the upper half from
// outside, the lower half in section. Nothing is clipped; a page that shows
// part of the build clips at the scene's edge.
func Elevation(r job.Result, v View) *drawing.Scene { return elevation(r, v, false) }

// Arrangement is the elevation with an item number on every piece, as the parts
// list counts them.
func Arrangement(r job.Result, v View) *drawing.Scene { return elevation(r, v, true) }

func elevation(r job.Result, v View, items bool) *drawing.Scene {
	o := r.Design.Outline
	k := v.Scale()
	if len(o) == 0 {
		return flatElevation(r, v, items)
	}
	if k == 0 {
		return empty(v, "Elevation", "Nothing to draw yet: the reference has no outline.")
	}
	if v.Folded {
		return folded(v, "Elevation", fmt.Sprintf("%s long, %s across",
			v.System.Whole(unit.Length(o.End()-o.Start())), v.System.Whole(unit.Length(2*o.MaxRadius()))))
	}
	above, under := beyond(r, o.MaxRadius())
	above, under = above*k, under*k
	below := belowBody
	if items {
		below = itemRow + ballRadius + 1
	}
	s := drawing.New(v.Width, bodyTop+above+under+below)
	s.Title = "Elevation"
	s.Desc = "Upper half outside, lower half in section. " + r.Name
	p := lying(k, drawing.Pt(v.X(0), bodyTop+above))
	silhouettes(s, p, r, false, false)
	if len(owns(r)) > 0 {
		s.Path(p.underProfile(o, -1), drawing.Filled(drawing.Sheet)) // a cavity shows its far wall, not what lies behind
	}
	outside(s, p, r, 1)
	section(s, p, r, bodies(r))
	core(s, p, r)
	outlineBelow(s, p, o)
	silhouettes(s, p, r, true, false)
	s.Line(p.at(o.Start(), 0).Sub(drawing.Pt(6, 0)), p.at(o.End(), 0).Add(drawing.Pt(6, 0)), drawing.CentreLine)
	lengths(s, p, r, v)
	pieceNames(s, p, r, diameters(s, p, r, v))
	if items {
		balls(s, p, r, bodyTop+above+under+itemRow, v.Width)
	}
	return s
}

// outlineBelow draws the section's outer edge heavier where no piece is carved.
func outlineBelow(s *drawing.Scene, p plot, o model.Outline) {
	s.Path(p.line(closed(o), -1), drawing.Lined(drawing.Outline))
}

// lengths are the overall length and the chain of the pieces' lengths.
func lengths(s *drawing.Scene, p plot, r job.Result, v View) {
	o := r.Design.Outline
	end := func(station float64) drawing.Point { return p.at(station, o.RadiusAt(station)) }
	s.Dimension(drawing.Dimension{
		ID: "overall", From: end(o.Start()), To: end(o.End()), At: overallRow,
		Text: v.System.Figure(unit.Length(o.End() - o.Start())), Title: "overall length",
	})
	var bounds []model.Span
	for _, i := range shells(r) {
		bounds = append(bounds, r.Division.Pieces[i].Span)
	}
	if len(bounds) == 0 {
		for _, part := range r.Design.Parts {
			if part.OnBody() {
				bounds = append(bounds, part.Span)
			}
		}
	}
	if len(bounds) < 2 {
		return
	}
	points := []drawing.Point{end(float64(bounds[0].From))}
	var texts []string
	for _, b := range bounds {
		points = append(points, end(float64(b.To)))
		texts = append(texts, v.System.Figure(b.Length()))
	}
	s.Chain("lengths", chainRow, points, texts, drawing.Shop)
}

// pieceNames letters the shells that have room for their name clear of what is
// taken already.
func pieceNames(s *drawing.Scene, p plot, r job.Result, taken []stretch) {
	for _, i := range shells(r) {
		piece := r.Division.Pieces[i]
		from, to := p.at(float64(piece.Span.From), 0), p.at(float64(piece.Span.To), 0)
		middle := float64(piece.Span.From+piece.Span.To) / 2
		rise := r.Design.Outline.RadiusAt(middle) * p.scale
		room := to.X - from.X - 2
		lines := drawing.Wrap(piece.Name, drawing.Bold, drawing.SizeBody, max(room, 1))
		wide := 0.0
		for _, l := range lines {
			wide = max(wide, drawing.Measure(l, drawing.Bold, drawing.SizeBody))
		}
		high := float64(len(lines)) * nameLeading
		if wide > room || high > rise-2 || broken(piece.Name, lines) {
			continue
		}
		x, ok := clearOf(taken, wide/2, from.X+wide/2+1, to.X-wide/2-1, nameShares[:])
		if !ok {
			continue
		}
		y := from.Y - rise/2 - high/2 + nameLeading/2
		for k, l := range lines {
			s.Text(drawing.Text{
				At: drawing.Pt(x, y+float64(k)*nameLeading), String: l, Face: drawing.Bold,
				Size: drawing.SizeBody, H: drawing.Middle, V: drawing.Centre, Halo: 0.7,
			})
		}
	}
}

// nameShares are the places across a piece tried for its name, the middle
// first.
var nameShares = [...]float64{0.5, 0.35, 0.65, 0.2, 0.8, 0, 1}

const nameLeading = 4.4

// broken reports whether wrapping broke a word.
func broken(text string, lines []string) bool {
	n := len(lines) - 1 // the spaces that became line ends
	for _, l := range lines {
		n += len(l)
	}
	return n != len(text)
}

// ElevationTable lists what the elevation shows: pieces and core by station.
func ElevationTable(r job.Result, u unit.System) Table {
	t := Table{Heads: []string{"piece", "from", "to", "largest diameter", "thinnest wall"}}
	for i, piece := range r.Division.Pieces {
		c := r.Carved[i]
		reach, across := c.Reach, u.Tenth(c.Diameter)
		if piece.Own {
			reach, across = stretchOf(r, i), "-"
		}
		t.Rows = append(t.Rows, []string{
			piece.Name, u.Whole(reach.From), u.Whole(reach.To), across, wallWords(c, u),
		})
	}
	if c := r.Design.Core; c != nil {
		t.Rows = append(t.Rows, []string{
			c.Stock.Name, u.Whole(c.Span.From), u.Whole(c.Span.To), u.Tenth(c.Stock.OD), u.Fine(c.Stock.Wall),
		})
	}
	return t
}
