package lane

import (
	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// View says what of a build is shown, and how.
type View struct {
	Span   model.Span // stations; [Whole] is all
	Width  float64    // mm of paper, [Pad] at both ends included
	System unit.System
	Folded bool // to one line
}

// Pad is kept free at both ends of a lane, mm of paper.
const Pad = 12.0

// Whole is the span of the whole build; the reference's until there is a design.
func Whole(r job.Result) model.Span {
	low, high := whole(r)
	if low > high {
		return model.Span{}
	}
	return model.Span{From: unit.Length(low), To: unit.Length(high)}
}

// Scale is mm of paper for a mm of the build, 0 where nothing is shown.
func (v View) Scale() float64 {
	if v.Span.Length() <= 0 || v.Width <= 2*Pad {
		return 0
	}
	return (v.Width - 2*Pad) / float64(v.Span.Length())
}

// X is where a station lies across the lane.
func (v View) X(station unit.Length) float64 {
	return Pad + float64(station-v.Span.From)*v.Scale()
}

// WidthAt is the width of a view of the span at a scale.
func WidthAt(span model.Span, scale float64) float64 {
	return 2*Pad + float64(span.Length())*scale
}

// Table is what a lane shows, as rows by station.
type Table struct {
	Heads []string
	Rows  [][]string
}

// Lane is a lane of the page: its drawing and its table say the same.
type Lane struct {
	ID    string
	Name  string
	Draw  func(job.Result, View) *drawing.Scene
	Table func(job.Result, unit.System) Table
}

// Lanes are all lanes, in the order of the page.
func Lanes() []Lane {
	return []Lane{
		{"elevation", "Elevation", Elevation, ElevationTable},
		{"pieces", "Pieces", Pieces, PiecesTable},
		{"walls", "Walls", Walls, WallsTable},
	}
}

// foldedHeight is the height of a folded lane, mm: one line of lettering.
const foldedHeight = 7.0

// folded is a lane's one line.
func folded(v View, title, words string) *drawing.Scene {
	s := drawing.New(v.Width, foldedHeight)
	s.Title = title
	s.Text(drawing.Text{
		At: drawing.Pt(Pad, foldedHeight/2), V: drawing.Centre, Size: drawing.SizeBody,
		String: drawing.Shorten(words, drawing.Regular, drawing.SizeBody, v.Width-2*Pad),
	})
	return s
}

// empty is a lane that has nothing to show yet.
func empty(v View, title, words string) *drawing.Scene {
	v.Width = max(v.Width, 3*Pad)
	return folded(v, title, words)
}
