package drawing

import (
	"slices"

	"golang.org/x/text/unicode/bidi"
)

// visual puts text with right-to-left words in the order it is seen, on a line
// that runs left to right. It is the Unicode bidirectional algorithm (UAX 9,
// revision 50) for such lines without embeddings, which clean has dropped:
// rules W2, W4 and W7 for numbers, N1 and N2 for what stands between, L2 to L4
// for order, marks and brackets. The library's own ordering leaves numbers within a
// right-to-left run on the wrong side.
func visual(s string) string {
	rs := []rune(s)
	level := make([]uint8, len(rs))
	const neutral = 9
	any := false
	rtl := false // the last strong letter was right to left
	for i, r := range rs {
		p, _ := bidi.LookupRune(r)
		switch p.Class() {
		case bidi.R, bidi.AL:
			rtl, any = true, true
			level[i] = 1
		case bidi.L:
			rtl = false
		case bidi.EN, bidi.AN:
			if rtl {
				level[i] = 2
			}
		case bidi.NSM:
			if i > 0 {
				level[i] = level[i-1] // W1: marks go with their letter
			}
		default:
			level[i] = neutral
		}
	}
	if !any {
		return s
	}
	joinNumbers(rs, level)
	settleNeutrals(level, neutral)
	// L4: brackets face the other way where the run does.
	for i := range rs {
		if level[i] == 1 {
			rs[i] = mirrored(rs[i])
		}
	}
	// L2: reverse from the highest level down.
	for l := uint8(2); l >= 1; l-- {
		for i := 0; i < len(rs); i++ {
			j := i
			for j < len(rs) && level[j] >= l {
				j++
			}
			if j > i {
				slices.Reverse(rs[i:j])
				slices.Reverse(level[i:j])
				i = j
			}
		}
	}
	marksAfter(rs, level)
	return string(rs)
}

// marksAfter is L3: marks that the turn put before their letter go behind it
// again, where the font expects them.
func marksAfter(rs []rune, level []uint8) {
	for i := 0; i < len(rs); i++ {
		j := i
		for j < len(rs) && level[j] == 1 && isMark(rs[j]) {
			j++
		}
		if j > i && j < len(rs) && level[j] == 1 {
			letter := rs[j]
			copy(rs[i+1:j+1], rs[i:j])
			rs[i] = letter
			i = j
		}
	}
}

func isMark(r rune) bool {
	p, _ := bidi.LookupRune(r)
	return p.Class() == bidi.NSM
}

// joinNumbers is W4: one separator between two figures goes with them.
func joinNumbers(rs []rune, level []uint8) {
	for i := 1; i+1 < len(rs); i++ {
		if level[i-1] == 2 && level[i+1] == 2 && (rs[i] == '.' || rs[i] == ',' || rs[i] == '/' || rs[i] == ':') {
			level[i] = 2
		}
	}
}

// settleNeutrals is N1 and N2: what stands between two right-to-left runs, in
// which numbers count, goes with them; all else goes with the line.
func settleNeutrals(level []uint8, neutral uint8) {
	for i := 0; i < len(level); i++ {
		if level[i] != neutral {
			continue
		}
		j := i
		for j < len(level) && level[j] == neutral {
			j++
		}
		l := uint8(0)
		if i > 0 && j < len(level) && level[i-1] > 0 && level[j] > 0 {
			l = 1
		}
		for k := i; k < j; k++ {
			level[k] = l
		}
		i = j
	}
}

func mirrored(r rune) rune {
	switch r {
	case '(':
		return ')'
	case ')':
		return '('
	case '[':
		return ']'
	case ']':
		return '['
	case '<':
		return '>'
	case '>':
		return '<'
	case '«':
		return '»'
	case '»':
		return '«'
	}
	return r
}
