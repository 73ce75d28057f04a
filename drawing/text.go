package drawing

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
func (t Text) Width() float64 { return Measure(t.String, t.Face, t.Size) }

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
