package drawing

import (
	"math"
	"strings"
)

// HAlign is where along the string its anchor lies.
type HAlign uint8

// The anchors along the line.
const (
	Start HAlign = iota
	Middle
	End
)

// VAlign is where across the line its anchor lies.
type VAlign uint8

// The anchors across the line. Centre and Top go by the height of capitals and
// figures, so that a figure in the break of a dimension line sits on it.
const (
	Baseline VAlign = iota
	Centre
	Top
)

// Text is one line of letters. Size is the body size (em) in mm: capitals are
// 0.73 of it, see [SizeForCaps]. Rotate turns about the anchor.
//
// Where one line has more than one face or colour, Spans take the place of
// String, Face and Colour; they follow one another without a gap but their own
// spaces.
type Text struct {
	ID     string
	At     Point
	String string
	Face   Face
	Size   float64
	H      HAlign
	V      VAlign
	Colour Colour  // None is Ink
	Halo   float64 // width of the surround in mm, drawn in Sheet under the letters
	Rotate float64 // degrees clockwise; -90 reads from below
	Class  string
	Spans  []Span
}

// Span is a stretch of words in one face and colour.
type Span struct {
	Text   string
	Face   Face
	Colour Colour // None is Ink
}

// Plainly is one upright span.
func Plainly(text string) []Span { return []Span{{Text: text}} }

// spans is the line in its stretches.
func (t Text) spans() []Span {
	if len(t.Spans) > 0 {
		return t.Spans
	}
	return []Span{{t.String, t.Face, t.Colour}}
}

// blank reports whether there is nothing to set.
func (t Text) blank() bool {
	for _, sp := range t.spans() {
		if strings.TrimSpace(clean(sp.Text)) != "" {
			return t.Size == 0
		}
	}
	return true
}

// Sizes of letters on paper, in mm of body size.
const (
	SizeCaption = 2.4
	SizeSmall   = 2.9
	SizeBody    = 3.3
	SizeFigure  = 3.3
	SizeText    = 3.9
	SizeHead    = 4.6
	SizeTitle   = 7.5
)

// SizeForCaps is the body size whose capitals are h mm high, for the heights
// of ISO 3098-1 (2.5, 3.5, 5, 7).
func SizeForCaps(h float64) float64 { return h / capHeight }

// Text adds one line of letters.
func (s *Scene) Text(t Text) { s.Add(t) }

// Letter adds one line at a baseline start: the short form of Text.
func (s *Scene) Letter(at Point, size float64, face Face, str string) {
	s.Add(Text{At: at, String: str, Size: size, Face: face})
}

func (t Text) moved(d Point, prefix string) Item {
	t.ID = prefixed(prefix, t.ID)
	t.At = t.At.Add(d)
	return t
}

// Width is the measured width of the line in mm.
func (t Text) Width() float64 {
	w := 0.0
	for _, sp := range t.spans() {
		w += Measure(sp.Text, sp.Face, t.Size)
	}
	return w
}

// drop is how far the baseline lies below the anchor.
func (t Text) drop() float64 {
	switch t.V {
	case Centre:
		return t.Size * capHeight / 2
	case Top:
		return t.Size * capHeight
	}
	return 0
}

// back is how far the line's start lies before the anchor.
func (t Text) back() float64 {
	switch t.H {
	case Middle:
		return t.Width() / 2
	case End:
		return t.Width()
	}
	return 0
}

// Bounds is the upright box round the line as it is set, from the top of its
// letters to the foot of those that hang below, turned with it.
func (t Text) Bounds() Rect {
	if t.blank() {
		return Rect{}
	}
	sin, cos := sincosDeg(t.Rotate)
	left, foot := -t.back(), t.drop()
	x := [2]float64{left, left + t.Width()}
	y := [2]float64{foot - t.Size*capHeight*1.06, foot + t.Size*descent}
	lo, hi := Pt(math.Inf(1), math.Inf(1)), Pt(math.Inf(-1), math.Inf(-1))
	for _, u := range x {
		for _, v := range y {
			p := t.At.Add(Pt(float64(u*cos)-float64(v*sin), float64(u*sin)+float64(v*cos)))
			lo, hi = Pt(min(lo.X, p.X), min(lo.Y, p.Y)), Pt(max(hi.X, p.X), max(hi.Y, p.Y))
		}
	}
	return Rect{lo.X, lo.Y, hi.X - lo.X, hi.Y - lo.Y}
}
