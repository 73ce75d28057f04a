package lane

import (
	"fmt"
	"math"

	"scalewright/craft/development"
	"scalewright/drawing"
	"scalewright/model"
	"scalewright/unit"
)

// Sizes of what is drawn for the pipe, mm.
const (
	sawHigh   = 60.0 // of a square-cut wrap: wide enough to lie square by itself
	stripHigh = 28.0
)

// across is the mean diameter of a pipe, and where it comes from: the log's
// readings, else the middle of what the table allows.
func (t *templates) across(core bool, least, most unit.Length) (mm float64, words string) {
	if mean := t.r.Facts.CoreMean; core && mean != nil {
		return mean.X, fmt.Sprintf("⌀ %.2f mm, the mean of your readings", mean.X)
	}
	words = fmt.Sprintf("⌀ %.2f mm by the table", float64(least+most)/2)
	if core {
		words += "; read yours and log it"
	}
	return float64(least+most) / 2, words
}

// core is what is laid on the core.
func (t *templates) core() {
	core := t.r.Design.Core
	if core == nil || core.Span.Length() <= 0 {
		return
	}
	mm, by := t.across(true, core.Stock.OD, core.Stock.ODMost)
	t.sawWrap(sawing{"core", core.Stock.Name, mm, by})
	t.coreStrip(*core)
	t.coreRings(*core, mm)
}

// sawing is a pipe to be sawn square.
type sawing struct {
	name, pipe string
	across     float64
	by         string // where the diameter comes from
}

// sawWrap is wrapped round a pipe: where its ends meet, its edges are square.
func (t *templates) sawWrap(p sawing) {
	across := p.across
	if across <= 0 {
		return
	}
	r := across / 2
	skin := development.Skin{From: development.Place{Radius: r}, To: development.Place{Station: sawHigh, Radius: r}, Paper: t.paper}
	w := newWrap(skin, 0, 2*math.Pi, 0, sawHigh, lapped)
	w.border()
	w.quarters(0, 8, true)
	for q := range 4 {
		w.along(float64(q)*math.Pi/2, 0, sawHigh, drawing.CentreLine)
	}
	for q, words := range [4]string{"saw at this edge", p.name, "saw at this edge", fmt.Sprintf("%.2f mm round", development.Girth(across, t.paper))} {
		turn, station := (float64(q)+0.5)*math.Pi/2, sawHigh-5
		if q%2 == 1 {
			station = sawHigh / 2
		}
		size := drawing.SizeSmall
		if wide := drawing.Measure(words, drawing.Regular, size); wide > math.Pi/2*r*0.9 {
			size *= math.Pi / 2 * r * 0.9 / wide // a thin rod
		}
		w.s.Text(drawing.Text{At: w.pt(turn, station), H: drawing.Middle, V: drawing.Centre, String: words, Size: size})
	}
	t.add(Template{
		Name: p.name + "-cut", Title: fmt.Sprintf("square cut of the %s, %s", p.name, p.pipe), Use: "saw the pipe square",
		Where:  "round either end of the " + p.name,
		Lay:    fmt.Sprintf("Wrap it round either end of the %s, its upper edge where you saw; it is square when edge meets edge all round. %s", p.name, p.by),
		Figure: w.s,
	})
}

// coreStrip is laid along the core from its lower end: where it is sawn and where
// rings sit.
func (t *templates) coreStrip(core model.Core) {
	long := float64(core.Span.Length())
	s := drawing.New(long+2*wrapRim, stripHigh+2*wrapRim)
	at := drawing.Pt(wrapRim, wrapRim)
	s.Rect(drawing.Rect{X: at.X, Y: at.Y, W: long, H: stripHigh}, drawing.Lined(drawing.Outline))
	step, named := 10.0, 10
	if t.u == unit.FeetInches {
		step, named = float64(unit.Inch), 6
	}
	for n := 1; float64(n)*step < long-5; n++ {
		mm, tall := float64(n)*step, 2.0
		if n%named == 0 {
			tall = 4
			s.Text(drawing.Text{At: at.Add(drawing.Pt(mm, 7.4)), H: drawing.Middle, String: t.u.Figure(unit.Length(mm)), Size: drawing.SizeSmall, Halo: 0.5})
		}
		s.Line(at.Add(drawing.Pt(mm, 0)), at.Add(drawing.Pt(mm, tall)), drawing.Thin)
	}
	end := 0.0 // of the last words
	for _, seat := range t.r.Division.Seats {
		piece, _ := t.r.Division.Piece(seat.Ring)
		from, to := float64(seat.Span.From-core.Span.From), float64(seat.Span.To-core.Span.From)
		s.Rect(drawing.Rect{X: at.X + from, Y: at.Y + 9, W: to - from, H: stripHigh - 9}, drawing.Style{Fill: drawing.Shade, Stroke: drawing.Object})
		words := fmt.Sprintf("%s, %s", piece.Name, t.u.Whole(unit.Length(from)))
		wide := drawing.Measure(words, drawing.Regular, drawing.SizeSmall)
		x, y := to+2, stripHigh*0.5
		if x+wide > long-6 {
			x = from - 2 - wide
		}
		if x < end+2 {
			y = stripHigh * 0.72
		}
		end = x + wide
		s.Text(drawing.Text{At: at.Add(drawing.Pt(x, y)), V: drawing.Centre, String: words, Size: drawing.SizeSmall, Halo: 0.6})
	}
	for _, x := range [2]float64{3, long - 3} {
		if !t.ringAt(core.Span.From + unit.Length(x)) {
			s.Text(drawing.Text{At: at.Add(drawing.Pt(x, stripHigh/2)), V: drawing.Centre, H: drawing.Middle, String: "saw", Size: drawing.SizeSmall, Rotate: -90})
		}
	}
	foot := at.Add(drawing.Pt(8, stripHigh-4))
	arrow(s, foot, foot.Add(drawing.Pt(12, 0)))
	s.Text(drawing.Text{At: foot.Add(drawing.Pt(14, 0)), V: drawing.Centre, String: "far end", Size: drawing.SizeSmall})
	t.add(Template{
		Name: "core", Title: fmt.Sprintf("core, %s, sawn to %s", core.Stock.Name, t.u.Whole(core.Span.Length())),
		Use: "mark saw cuts and rings", Where: "along the core, from its lower end", Lay: "Lay it along the pipe, its left end on the end nearer station 0", Figure: s,
	})
}

// ringAt reports whether a core ring sits at a station, or nearly.
func (t *templates) ringAt(station unit.Length) bool {
	for _, seat := range t.r.Division.Seats {
		if station > seat.Span.From-2 && station < seat.Span.To+2 {
			return true
		}
	}
	return false
}

// coreRings are wrapped round the core where its rings sit, with the holes that
// cables take through them.
func (t *templates) coreRings(core model.Core, across float64) {
	seats := t.r.Division.Seats
	if len(seats) == 0 || across <= 0 {
		return
	}
	const over = 6.0 // above the ring, for its name
	r := across / 2
	var rows []*wrap
	for _, seat := range seats {
		high := float64(seat.Span.Length()) + over
		skin := development.Skin{From: development.Place{Radius: r}, To: development.Place{Station: high, Radius: r}, Paper: t.paper}
		w := newWrap(skin, 0, 2*math.Pi, 0, high, lapped)
		w.border()
		w.round(high-over, drawing.Thin)
		w.quarters(0, 4, true)
		for _, way := range t.r.Places.Ways {
			for _, pass := range way.Passes {
				if pass.Piece == seat.Ring {
					w.along(2*math.Pi*turnShare(pass.Clocking), 0, high-over, drawing.CentreLine)
				}
			}
		}
		piece, _ := t.r.Division.Piece(seat.Ring)
		words := fmt.Sprintf("%s: lower edge %s from the lower end of the core", piece.Name, t.u.Whole(seat.Span.From-core.Span.From))
		w.beside(0, high-over/2, drawing.Shorten(words, drawing.Regular, drawing.SizeSmall, 2*math.Pi*r-2), drawing.SizeSmall)
		rows = append(rows, w)
	}
	t.add(Template{
		Name: "core-rings", Title: "rings round the core", Use: "carry the rings round the pipe",
		Where: "round the core, where its strip says",
		Lay:   "Wrap each with its lower edge where the core's strip says, 0° on one line along the pipe; chain lines are holes for cables", Figure: stacked(rows),
	})
}
