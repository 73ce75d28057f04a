package drawing

import "strings"

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

// lines sets the words greedily, a word at a time. A word that changes face
// within may be parted there at a line's end.
func (p Paragraph) lines() [][]Span {
	lines := [][]Span{nil}
	x := 0.0
	gap := false // a space is due before the next word
	newLine := func() { lines, x, gap = append(lines, nil), 0, false }
	put := func(sp Span, part string) {
		w := Measure(part, sp.Face, p.size())
		lead := ""
		if gap && x > 0 {
			lead = " "
		}
		if space := Measure(lead, sp.Face, p.size()); x > 0 && x+space+w > p.Width {
			newLine()
			lead = ""
		} else {
			w += space
		}
		last := &lines[len(lines)-1]
		if n := len(*last); n > 0 && (*last)[n-1].Face == sp.Face && (*last)[n-1].Colour == sp.Colour {
			(*last)[n-1].Text += lead + part
		} else {
			*last = append(*last, Span{lead + part, sp.Face, sp.Colour})
		}
		x += w
		gap = true
	}
	for _, sp := range p.Spans {
		for j, para := range strings.Split(sp.Text, "\n") {
			if j > 0 {
				newLine()
			}
			para = clean(para)
			gap = gap || strings.HasPrefix(para, " ")
			for _, word := range words(para) {
				for k, part := range wrapLine(word, sp.Face, p.size(), p.Width) {
					if k > 0 {
						newLine()
					}
					put(sp, part)
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
		if len(line) > 0 {
			s.Text(Text{At: Pt(p.At.X, y), Spans: line, Size: p.size()})
		}
	}
	return float64(len(lines)) * p.leading()
}
