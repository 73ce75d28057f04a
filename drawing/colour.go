package drawing

import "strings"

// Colour is a named ink, looked up in a [Palette] when the scene is written,
// or a literal "#rrggbb" where the colour itself is the subject (a lamp, a coat
// of paint). The empty Colour draws nothing.
type Colour string

// The inks. Signal is for findings and broken limits only; Pencil is for what
// belongs to the reference; TintA and TintB alternate along the pieces.
const (
	None   Colour = ""
	Paper  Colour = "paper"
	Sheet  Colour = "sheet"
	Field  Colour = "field"
	Ink    Colour = "ink"
	Ink2   Colour = "ink2"
	Ink3   Colour = "ink3"
	Hair   Colour = "hair"
	Rule   Colour = "rule"
	TintA  Colour = "tintA"
	TintB  Colour = "tintB"
	Core   Colour = "core"
	Shade  Colour = "shade"
	Pencil Colour = "pencil"
	Signal Colour = "signal"
)

// Palette gives each named ink its "#rrggbb". The zero Palette is [Print].
type Palette struct {
	Paper, Sheet, Field string
	Ink, Ink2, Ink3     string
	Hair, Rule          string
	TintA, TintB        string
	Core, Shade         string
	Pencil, Signal      string
}

// The three palettes: the page by day, the page by night, and paper. Print is
// black on white; its tints are light enough to letter over on a mono printer.
var (
	Day = Palette{
		Paper: "#efe7d5", Sheet: "#faf5e8", Field: "#fffcf3",
		Ink: "#1b2230", Ink2: "#434a57", Ink3: "#625f57",
		Hair: "#d9cfb8", Rule: "#a89d84",
		TintA: "#dbe5e6", TintB: "#f0e2bf", Core: "#d3dfc6", Shade: "#e9e0cb",
		Pencil: "#1f5687", Signal: "#b0290b",
	}
	Night = Palette{
		Paper: "#14181e", Sheet: "#1a1f27", Field: "#222934",
		Ink: "#ece5d4", Ink2: "#c4bfb1", Ink3: "#a09c90",
		Hair: "#2e3642", Rule: "#5b6472",
		TintA: "#2b4353", TintB: "#4a412a", Core: "#32493a", Shade: "#252c36",
		Pencil: "#93c3ef", Signal: "#ff8d63",
	}
	Print = Palette{
		Paper: "#ffffff", Sheet: "#ffffff", Field: "#ffffff",
		Ink: "#000000", Ink2: "#222222", Ink3: "#444444",
		Hair: "#d0d0d0", Rule: "#777777",
		TintA: "#e9eff0", TintB: "#f6efdd", Core: "#e4ecdd", Shade: "#f1ede2",
		Pencil: "#1f5687", Signal: "#a8260a",
	}
)

// Hex returns the "#rrggbb" of c in the palette, and false where c is neither
// a named ink nor a literal of that form.
func (p Palette) Hex(c Colour) (string, bool) {
	if p == (Palette{}) {
		p = Print
	}
	switch c {
	case Paper:
		return p.Paper, true
	case Sheet:
		return p.Sheet, true
	case Field:
		return p.Field, true
	case Ink:
		return p.Ink, true
	case Ink2:
		return p.Ink2, true
	case Ink3:
		return p.Ink3, true
	case Hair:
		return p.Hair, true
	case Rule:
		return p.Rule, true
	case TintA:
		return p.TintA, true
	case TintB:
		return p.TintB, true
	case Core:
		return p.Core, true
	case Shade:
		return p.Shade, true
	case Pencil:
		return p.Pencil, true
	case Signal:
		return p.Signal, true
	}
	_, ok := parseHex(string(c))
	return strings.ToLower(string(c)), ok
}

// parseHex reads "#rrggbb".
func parseHex(s string) (rgb [3]int, ok bool) {
	if len(s) != 7 || s[0] != '#' {
		return rgb, false
	}
	for i := range 6 {
		var d int
		switch c := s[i+1]; {
		case c >= '0' && c <= '9':
			d = int(c - '0')
		case c >= 'a' && c <= 'f':
			d = int(c-'a') + 10
		case c >= 'A' && c <= 'F':
			d = int(c-'A') + 10
		default:
			return rgb, false
		}
		rgb[i/2] = rgb[i/2]*16 + d
	}
	return rgb, true
}
