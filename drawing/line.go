package drawing

// Line widths in millimetres. They are the screen's 1.9, 1.2, 0.9 and 0.7 px at
// 96 px to the inch, each taken to the nearest of the series of ISO 128-2:2020,
// line widths (0.13, 0.18, 0.25, 0.35, 0.5, 0.7 ... each the last times the
// root of two). Frame is the width of the border line of ISO 5457:1999.
const (
	FrameWidth   = 0.7
	OutlineWidth = 0.5
	ObjectWidth  = 0.35
	ThinWidth    = 0.25
	FineWidth    = 0.18
	HairWidth    = 0.13
)

// Pixel is a CSS pixel in mm (CSS Values 4: 96 to the inch), for scenes that
// are laid out for the screen.
const Pixel = 25.4 / 96

// HatchPitch is the distance between hatch lines: 5 px of the screen at 96 px
// to the inch.
const HatchPitch = 1.3

// TickSize is half the length of an oblique dimension tick along each axis.
const TickSize = 1.0

// Stroke is how a line is drawn. The zero Stroke draws nothing.
type Stroke struct {
	Colour Colour
	Width  float64   // mm
	Dash   []float64 // mm of line and gap by turns; nil is continuous
}

// The line styles. Dashes are the screen's, at 96 px to the inch: chain 16-3-3-3,
// hidden 6-3, limit 7-3, proposed 7-4 px.
var (
	Outline    = Stroke{Ink, OutlineWidth, nil} // the visible outline of the piece
	Object     = Stroke{Ink, ObjectWidth, nil}  // things in and on it, seams
	Thin       = Stroke{Ink, ThinWidth, nil}    // dimension lines, section edges
	Fine       = Stroke{Ink, FineWidth, nil}    // extension lines, leaders, hatch
	Grid       = Stroke{Hair, FineWidth, nil}   // grid under a drawing
	LaneRule   = Stroke{Rule, FineWidth, nil}   // rules between rows
	CentreLine = Stroke{Ink, FineWidth, []float64{4.2, 0.8, 0.8, 0.8}}
	Hidden     = Stroke{Ink, ThinWidth, []float64{1.6, 0.8}}
	Limit      = Stroke{Ink, ThinWidth, []float64{1.85, 0.8}}
	Proposed   = Stroke{Signal, ThinWidth, []float64{1.85, 1.05}}
)

// In returns the stroke in another colour.
func (s Stroke) In(c Colour) Stroke { s.Colour = c; return s }

// Wide returns the stroke at another width.
func (s Stroke) Wide(mm float64) Stroke { s.Width = mm; return s }

// Style is how a path is painted: filled, then stroked. The zero Style draws
// nothing. Opacity is 0 to 1, where 0 stands for not set: fully there.
type Style struct {
	Fill    Colour
	Stroke  Stroke
	EvenOdd bool // holes where contours lie inside one another, whatever their turn
	Opacity float64
}

// Lined is a Style of a stroke without fill.
func Lined(s Stroke) Style { return Style{Stroke: s} }

// Filled is a Style of a fill without stroke.
func Filled(c Colour) Style { return Style{Fill: c} }
