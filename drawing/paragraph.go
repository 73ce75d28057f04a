package drawing

import "strings"

// Span is a stretch of words in one face and colour.
type Span struct {
	Text   string
	Face   Face
	Colour Colour // None is Ink
}

// Plainly is one upright span.
func Plainly(text string) []Span { return []Span{{Text: text}} }

// Paragraph is words set in lines from the left, broken at spaces. A newline
// in the words breaks the line.
type Paragraph struct {
	ID      string
	At      Point // upper left corner
	Width   float64
	Spans   []Span
	Size    float64 // 0 is SizeText
	Leading float64 // mm from line to line; 0 goes with the size
}

// piece is a run of words of one span on one line.
type piece struct {
	text  string
	span  int
	x     float64
	width float64
}

func (p Paragraph) size() float64 {
	if p.Size == 0 {
		return SizeText
	}
	return p.Size
}

func (p Paragraph) leading() float64 {
	if p.Leading == 0 {
		return p.size() * 1.42
	}
	return p.Leading
}

// Height is the height the paragraph takes.
func (p Paragraph) Height() float64 { return float64(len(p.lines())) * p.leading() }

// lines sets the words greedily, a word at a time. Words of neighbouring spans
// with no space between them still part at the line's end only if one of them
// alone would not fit.
func (p Paragraph) lines() [][]piece {
	lines := [][]piece{nil}
	x := 0.0
	gap := false // a space is due before the next word
	for i, sp := range p.Spans {
		space := Measure(" ", sp.Face, p.size())
		for j, para := range strings.Split(sp.Text, "\n") {
			if j > 0 {
				lines, x, gap = append(lines, nil), 0, false
			}
			para = clean(para)
			gap = gap || strings.HasPrefix(para, " ")
			for _, word := range words(para) {
				for _, part := range wrapLine(word, sp.Face, p.size(), p.Width) {
					w := Measure(part, sp.Face, p.size())
					lead := 0.0
					if gap && x > 0 {
						lead = space
					}
					if x > 0 && x+lead+w > p.Width {
						lines, x, lead = append(lines, nil), 0, 0
					}
					last := &lines[len(lines)-1]
					if n := len(*last); n > 0 && (*last)[n-1].span == i {
						q := &(*last)[n-1]
						if lead > 0 {
							q.text += " "
						}
						q.text += part
						q.width += lead + w
					} else {
						*last = append(*last, piece{part, i, x + lead, w})
					}
					x += lead + w
					gap = true
				}
			}
			gap = strings.HasSuffix(para, " ")
		}
	}
	return lines
}

// Paragraph sets the words and returns the height used.
func (s *Scene) Paragraph(p Paragraph) float64 {
	if p.ID != "" {
		s.Begin(Group{ID: p.ID})
		defer s.End()
	}
	lines := p.lines()
	for i, line := range lines {
		y := p.At.Y + float64(i)*p.leading() + (p.leading()+p.size()*capHeight)/2
		for _, q := range line {
			sp := p.Spans[q.span]
			s.Text(Text{At: Pt(p.At.X+q.x, y), String: q.text, Face: sp.Face, Size: p.size(), Colour: sp.Colour})
		}
	}
	return float64(len(lines)) * p.leading()
}
