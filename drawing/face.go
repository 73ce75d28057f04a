package drawing

import (
	"sync"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"github.com/go-fonts/dejavu/dejavusanscondensedboldoblique"
	"github.com/go-fonts/dejavu/dejavusanscondensedoblique"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Face is a cut of the lettering. All are DejaVu Sans Condensed. Italic is for
// what belongs to the reference.
type Face uint8

// The faces.
const (
	Regular Face = iota
	Bold
	Italic
	BoldItalic
	faceCount
)

// Heights of DejaVu Sans as parts of the body size, from its OS/2 and hhea
// tables (2048 units to the em): sCapHeight 1493, ascender 1901, descender 483.
const (
	capHeight = 1493.0 / 2048
	ascent    = 1901.0 / 2048
	descent   = 483.0 / 2048
)

func (f Face) ttf() []byte {
	switch f {
	case Bold:
		return dejavusanscondensedbold.TTF
	case Italic:
		return dejavusanscondensedoblique.TTF
	case BoldItalic:
		return dejavusanscondensedboldoblique.TTF
	}
	return dejavusanscondensed.TTF
}

func (f Face) bold() bool   { return f == Bold || f == BoldItalic }
func (f Face) italic() bool { return f == Italic || f == BoldItalic }

// metrics remembers the advance of each rune asked for; sfnt's buffer isn't
// safe for two callers, so one lock guards both.
type metrics struct {
	mu    sync.Mutex
	font  *sfnt.Font
	buf   sfnt.Buffer
	units fixed.Int26_6
	em    float64
	cache map[rune]float64

	shapes map[rune]*Path // on a body of 1, for pictures
}

var faces [faceCount]func() *metrics

func init() {
	for f := range faceCount {
		faces[f] = sync.OnceValue(func() *metrics {
			ft, err := sfnt.Parse(f.ttf())
			if err != nil {
				panic("drawing: internal error: embedded font: " + err.Error())
			}
			em := int(ft.UnitsPerEm())
			return &metrics{font: ft, units: fixed.I(em), em: float64(em), cache: map[rune]float64{}, shapes: map[rune]*Path{}}
		})
	}
}

func (f Face) metrics() *metrics {
	if f >= faceCount {
		f = Regular
	}
	return faces[f]()
}

// noGlyph stands in for a rune the font lacks.
const noGlyph = '\uFFFD'

// advance is the width of r as a part of the body size, and whether the font
// has it. The caller holds mu.
func (m *metrics) advance(r rune) (float64, bool) {
	if a, ok := m.cache[r]; ok {
		return max(a, 0), a >= 0
	}
	a := -1.0
	// The PDF writer addresses glyphs by 16-bit code.
	if r <= 0xFFFF {
		if g, err := m.font.GlyphIndex(&m.buf, r); err == nil && g != 0 {
			// At one pixel a unit the advance is in whole font units.
			if adv, err := m.font.GlyphAdvance(&m.buf, g, m.units, font.HintingNone); err == nil {
				a = float64(adv) / 64 / m.em
			}
		}
	}
	m.cache[r] = a
	return max(a, 0), a >= 0
}
