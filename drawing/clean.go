package drawing

import (
	"strings"
	"unicode"
)

// clean makes any string safe to letter: control characters become spaces,
// runs of spaces one space, characters that XML forbids and those that only
// turn the direction of writing are dropped, bad UTF-8 becomes U+FFFD.
// Both writers and Measure use it, so that they agree.
func clean(s string) string {
	if plain(s) {
		return s
	}
	var b strings.Builder
	b.Grow(len(s))
	space := false
	for _, r := range s {
		switch {
		case r == '\u00a0', r == '\u202f':
			// Spaces that don't break are kept as they are.
		case unicode.IsControl(r), unicode.IsSpace(r):
			if !space {
				b.WriteByte(' ')
			}
			space = true
			continue
		case r >= 0x202A && r <= 0x202E, r >= 0x2066 && r <= 0x2069, r == 0xFEFF,
			r&0xFFFE == 0xFFFE, r >= 0xFDD0 && r <= 0xFDEF:
			continue
		}
		space = false
		b.WriteRune(r)
	}
	return b.String()
}

// plain reports whether clean would change nothing; most text is.
func plain(s string) bool {
	for i := range len(s) {
		c := s[i]
		if c < ' ' || c > '~' || (c == ' ' && i > 0 && s[i-1] == ' ') {
			return false
		}
	}
	return true
}

// shown is the text as the PDF sets it: cleaned, in the order of the eye, with
// the replacement sign for what the font lacks. Letters of scripts that join
// (Arabic) are set unjoined.
func shown(s string, face Face) string {
	m := face.metrics()
	m.mu.Lock()
	defer m.mu.Unlock()
	return shownLocked(s, m)
}

// shownLocked is the same for a caller who holds mu.
func shownLocked(s string, m *metrics) string {
	return strings.Map(func(r rune) rune {
		if _, ok := m.advance(r); !ok {
			return noGlyph
		}
		return r
	}, visual(clean(s)))
}

// narrow is cleaned text of 16-bit characters, for outlines and properties: the
// PDF library encodes no others.
func narrow(s string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xFFFF {
			return noGlyph
		}
		return r
	}, clean(s))
}
