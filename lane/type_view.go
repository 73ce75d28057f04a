package lane

import (
	"math"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// View says what of a build is shown, and how.
type View struct {
	Span     model.Span // stations; [Whole] is all
	Width    float64    // mm of paper, [Pad] at both ends included
	System   unit.System
	Folded   bool        // to one line
	Plumb    unit.Length // station of the plumb line, where HasPlumb
	HasPlumb bool
	Selected string // a piece's id: its span is tinted and its dimensions are drawn
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

// Scale is mm of paper for a mm of the build, 0 where nothing is shown: a span
// without length, a width that no paper has.
func (v View) Scale() float64 {
	if !(v.Span.Length() > 0) || !(v.Width > 2*Pad && v.Width <= mostWidth) || !finite(float64(v.Span.From), float64(v.Span.Length())) {
		return 0
	}
	return (v.Width - 2*Pad) / float64(v.Span.Length())
}

// X is where a station lies across the lane.
func (v View) X(station unit.Length) float64 {
	return Pad + float64(station-v.Span.From)*v.Scale()
}

// Station is what lies at x across the lane.
func (v View) Station(x float64) unit.Length {
	return v.Span.From + unit.Length((x-Pad)/v.Scale())
}

// WidthAt is the width of a view of the span at a scale.
func WidthAt(span model.Span, scale float64) float64 {
	return 2*Pad + float64(span.Length())*scale
}

// edge is how far from the paper's sides a lane draws: what runs on past the span
// is cut there.
const edge = 1.0

// seen are the stations between the lane's edges, the pads included.
func (v View) seen() (from, to float64) {
	return float64(v.Station(edge)), float64(v.Station(v.Width - edge))
}

// touches reports whether any of a stretch is seen.
func (v View) touches(from, to float64) bool {
	a, b := v.seen()
	return from <= b && to >= a
}

// holds reports whether all of a stretch lies in the span, as near as a hair's
// width of paper.
func (v View) holds(from, to float64) bool {
	slack := drawing.HairWidth / v.Scale()
	return from >= float64(v.Span.From)-slack && to <= float64(v.Span.To)+slack
}

// plumb is the station of the plumb line; false where none hangs in the view.
func (v View) plumb() (float64, bool) {
	at := float64(v.Plumb)
	return at, v.HasPlumb && v.Scale() > 0 && v.touches(at, at)
}

// paper is a scene of the view's width; a width that no paper has becomes a
// hair's.
func (v View) paper(height float64) *drawing.Scene {
	wide := min(max(1, v.Width), mostWidth)
	if math.IsNaN(wide) {
		wide = 1
	}
	return drawing.New(wide, height)
}

// mostWidth of a lane, mm: nine metres; a drawing takes ten.
const mostWidth = 9000.0

// Table is what a lane shows as rows by station: for readers who cannot see the
// drawing, and for copying. Lengths are in the asked system of units.
type Table struct {
	Caption string
	Columns []Column
	Rows    [][]string
}

// Column is a column of a Table; figures are set to the right.
type Column struct {
	Head   string
	Figure bool
}

// table begins a Table; heads that start with # are of figures.
func table(caption string, heads ...string) Table {
	t := Table{Caption: caption}
	for _, h := range heads {
		c := Column{Head: h}
		if h[0] == '#' {
			c = Column{h[1:], true}
		}
		t.Columns = append(t.Columns, c)
	}
	return t
}

func (t *Table) row(cells ...string) { t.Rows = append(t.Rows, cells) }

// Reading is what a lane states at the plumb line: at full size, and of the
// reference where that says more.
type Reading struct {
	Here      string
	Reference string
}

// Summary is a lane in words: what stands at the left of its folded line, and the
// one remark at the right.
type Summary struct {
	Says   string
	Remark string
	Alarm  bool // the remark is of a limit broken
}

// Lane is a lane of the page: its drawing, its table and its one line say the same.
type Lane struct {
	ID    string
	Name  string
	What  func(unit.System) string // under the name: what is measured, in which unit
	Draw  func(*Prepared, View) *drawing.Scene
	Read  func(*Prepared, View) Reading
	Says  func(*Prepared, unit.System) Summary
	Table func(*Prepared, unit.System) Table
}

// All are all lanes, in the order of the page.
func All() []Lane {
	return []Lane{
		{"elevation", "Elevation", constant("to scale, half in section"), Elevation, readElevation, saysElevation, ElevationTable},
		{"pieces", "Pieces", constant("hours, grams"), Pieces, readPieces, saysPieces, PiecesTable},
		{"walls", "Walls", constant("least, mm"), Walls, readWalls, saysWalls, WallsTable},
		{"core", "Core and stock", lengthsIn, Core, readCore, saysCore, CoreTable},
		{"fits", "Fits", constant("clearance, mm"), Fits, readFits, saysFits, FitsTable},
		{"weight", "Weight", constant("below, kg"), Weight, readWeight, saysWeight, WeightTable},
		{"finish", "Finish", constant("zones and coats"), Finish, readFinish, saysFinish, FinishTable},
		{"error", "Error", constant("doubt at full size, mm"), Error, readError, saysError, ErrorTable},
		{"lights", "Lights & sound", constant("wires, lamps"), Lights, readLights, saysLights, LightsTable},
	}
}

func constant(words string) func(unit.System) string {
	return func(unit.System) string { return words }
}

func lengthsIn(u unit.System) string {
	if u == unit.FeetInches {
		return "lengths, ft-in"
	}
	return "lengths, mm"
}
