package drawing

import "strings"

// Measure is the width in mm of the text set in the face at the given body
// size, by the font's advance widths without kerning, as both writers set it.
// A rune the font lacks counts as the replacement sign that is printed for it.
func Measure(text string, face Face, size float64) float64 {
	m := face.metrics()
	m.mu.Lock()
	defer m.mu.Unlock()
	w := 0.0
	for _, r := range clean(text) {
		a, ok := m.advance(r)
		if !ok {
			a, _ = m.advance(noGlyph)
		}
		w += a
	}
	return w * size
}

// Wrap breaks the text at spaces into lines no wider than width mm, greedily.
// A newline in the text always breaks. A word wider than the line is broken
// inside, so that no line is ever too wide, unless one letter alone is. An
// empty text gives one empty line.
func Wrap(text string, face Face, size, width float64) []string {
	var out []string
	for para := range strings.SplitSeq(text, "\n") {
		out = append(out, wrapLine(para, face, size, width)...)
	}
	return out
}

// words parts cleaned text at its plain spaces; those that don't break stay.
func words(text string) []string {
	return strings.FieldsFunc(clean(text), func(r rune) bool { return r == ' ' })
}

func wrapLine(text string, face Face, size, width float64) []string {
	var out []string
	line := ""
	for _, word := range words(text) {
		try := word
		if line != "" {
			try = line + " " + word
		}
		if Measure(try, face, size) <= width {
			line = try
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		for Measure(word, face, size) > width {
			head := fitting(word, face, size, width)
			if head == len(word) {
				break
			}
			out = append(out, word[:head])
			word = word[head:]
		}
		line = word
	}
	return append(out, line)
}

// fitting is the number of bytes of word, at least one rune, that fit.
func fitting(word string, face Face, size, width float64) int {
	n := 0
	for i, r := range word {
		end := i + len(string(r))
		if n > 0 && Measure(word[:end], face, size) > width {
			break
		}
		n = end
	}
	return n
}

// Shorten cuts the text to the width with an ellipsis where it is too wide.
func Shorten(text string, face Face, size, width float64) string {
	text = clean(text)
	if Measure(text, face, size) <= width {
		return text
	}
	const dots = "…"
	rs := []rune(text)
	for n := len(rs) - 1; n > 0; n-- {
		if t := strings.TrimRight(string(rs[:n]), " ") + dots; Measure(t, face, size) <= width {
			return t
		}
	}
	return dots
}
