package drawing_test

import (
	"encoding/binary"
	"math"
	"strings"
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"pgregory.net/rapid"

	"scalewright/drawing"
)

// hmtx reads a rune's advance from the font file itself: cmap format 4, then
// hmtx (OpenType 1.9, tables cmap and hmtx), with no code of the package or of
// the library it uses.
func hmtx(t *testing.T, ttf []byte, r rune) float64 {
	t.Helper()
	u16 := func(b []byte, i int) int { return int(binary.BigEndian.Uint16(b[i:])) }
	tables := map[string][]byte{}
	for i := range u16(ttf, 4) {
		e := ttf[12+16*i:]
		off, n := binary.BigEndian.Uint32(e[8:]), binary.BigEndian.Uint32(e[12:])
		tables[string(e[:4])] = ttf[off : off+n]
	}
	cmap := tables["cmap"]
	var sub []byte
	for i := range u16(cmap, 2) {
		e := cmap[4+8*i:]
		if s := cmap[binary.BigEndian.Uint32(e[4:]):]; u16(s, 0) == 4 {
			sub = s
		}
	}
	n := u16(sub, 6) / 2
	for i := range n {
		end, start := u16(sub, 14+2*i), u16(sub, 16+2*n+2*i)
		if int(r) > end || int(r) < start {
			continue
		}
		delta, at := u16(sub, 16+4*n+2*i), 16+6*n+2*i
		g := (int(r) + delta) & 0xFFFF
		if ro := u16(sub, at); ro != 0 {
			g = (u16(sub, at+ro+2*(int(r)-start)) + delta) & 0xFFFF
		}
		return float64(u16(tables["hmtx"], 4*min(g, u16(tables["hhea"], 34)-1))) / float64(u16(tables["head"], 18))
	}
	t.Fatalf("no glyph for %q", r)
	return 0
}

func TestMeasureAgainstFontTables(t *testing.T) {
	for _, s := range []string{"", "1311 mm", "⌀ 252", "A4 body ring, service panel", "Größe 4′-3 5/8″", "×7.5 °"} {
		want := 0.0
		for _, r := range s {
			want += 3.3 * hmtx(t, dejavusanscondensed.TTF, r)
		}
		if got := drawing.Measure(s, drawing.Regular, 3.3); math.Abs(got-want) > 1e-9 {
			t.Errorf("Measure(%q) = %v, want %v by hmtx", s, got, want)
		}
	}
}

// TestMeasureAgainstPDFLibrary compares with the widths the PDF's viewer goes
// by, which are whole thousandths of the body size: half of one a letter.
func TestMeasureAgainstPDFLibrary(t *testing.T) {
	f := fpdf.New("P", "mm", "A4", "")
	f.AddUTF8FontFromBytes("x", "", dejavusanscondensed.TTF)
	f.SetFont("x", "", 72) // 25.4 mm
	const s = "Elevation, upper half outside, lower half in section. Scale 1:4."
	want := f.GetStringWidth(s)
	if got := drawing.Measure(s, drawing.Regular, 25.4); math.Abs(got-want) > 25.4*0.0005*float64(len(s)) {
		t.Errorf("Measure = %v, PDF library says %v", got, want)
	}
}

func TestFacesDiffer(t *testing.T) {
	const s = "Heron 300 × 300"
	if r, b := drawing.Measure(s, drawing.Regular, 1), drawing.Measure(s, drawing.Bold, 1); b <= r {
		t.Errorf("bold %v is no wider than regular %v", b, r)
	}
}

func TestWrapProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := strings.Join(rapid.SliceOf(rapid.StringMatching(`[a-zäß0-9,.]{1,30}`)).Draw(t, "words"), " ")
		width := rapid.Float64Range(6, 120).Draw(t, "width")
		lines := drawing.Wrap(s, drawing.Regular, 3.3, width)
		for _, l := range lines {
			if w := drawing.Measure(l, drawing.Regular, 3.3); w > width {
				t.Fatalf("line %q is %v wide, room %v", l, w, width)
			}
		}
		strip := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if got := strip(strings.Join(lines, "")); got != strip(s) {
			t.Fatalf("letters changed: %q, want %q", got, s)
		}
	})
}

func TestWrapKeepsTogether(t *testing.T) {
	got := drawing.Wrap("about 310\u00a0€ all\nin", drawing.Regular, 3, drawing.Measure("about 310", drawing.Regular, 3))
	want := []string{"about", "310\u00a0€ all", "in"}
	if strings.Join(got, "|") != strings.Join(want, "|") {
		t.Errorf("Wrap = %q, want %q", got, want)
	}
}

func TestShorten(t *testing.T) {
	const s = "drain pipe EN 1401, 110 x 3.2"
	for w := 2.0; w < 60; w += 1.7 {
		got := drawing.Shorten(s, drawing.Regular, 3.3, w)
		if m := drawing.Measure(got, drawing.Regular, 3.3); m > w && got != "…" {
			t.Errorf("Shorten to %v gives %q, %v wide", w, got, m)
		}
	}
	if got := drawing.Shorten(s, drawing.Regular, 3.3, 100); got != s {
		t.Errorf("Shorten with room = %q", got)
	}
}
