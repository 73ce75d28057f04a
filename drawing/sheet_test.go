package drawing_test

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"scalewright/drawing"
)

// letters are the strings on a scene, in order.
func letters(s *drawing.Scene) []string {
	var out []string
	for _, it := range s.Items {
		if t, ok := it.(drawing.Text); ok {
			out = append(out, t.String)
		}
	}
	return out
}

func TestZones(t *testing.T) {
	// Fields along the sides: BS EN ISO 5457:1999+A1:2010 as tabled at
	// cadsetterout.com/drawing-standards/grid-reference-frame: A3 8 by 6, A4 6 by
	// 4, fields of 50 mm from the centring lines.
	for _, c := range []struct {
		name          string
		f             drawing.Format
		across, down  string
		across2, left int // times the last number and letter appear
	}{
		{"A3 landscape", drawing.A3Landscape, "8", "F", 2, 2},
		{"A4 portrait", drawing.A4Portrait, "4", "F", 1, 1},
		{"A4 landscape", drawing.A4Landscape, "6", "D", 1, 1},
	} {
		s, area := drawing.NewSheet(c.f)
		n := map[string]int{}
		for _, l := range letters(s) {
			n[l]++
		}
		if n[c.across] != c.across2 || n[c.down] != c.left {
			t.Errorf("%s: last fields %s and %s stand %d and %d times", c.name, c.across, c.down, n[c.across], n[c.down])
		}
		if n["I"]+n["O"]+n["9"]+n["G"] > 0 {
			t.Errorf("%s: a field too many", c.name)
		}
		// ISO 5457:1999: 20 mm left, 10 mm elsewhere.
		if area != (drawing.Rect{X: 20, Y: 10, W: c.f.Width - 30, H: c.f.Height - 20}) {
			t.Errorf("%s: drawing space %v", c.name, area)
		}
	}
}

func TestTitleBlockFits(t *testing.T) {
	long := strings.Repeat("Heron 300 × 300 × 400, ", 12)
	s, area := drawing.NewSheet(drawing.A4Portrait)
	from := len(s.Items)
	box := s.TitleBlock(area, drawing.TitleBlock{Rows: []drawing.TitleRow{
		{Height: 12, Cells: []drawing.Cell{{Caption: long, Value: long, Width: 1}, {Caption: "Sheet", Value: long, Width: 3, Size: 9, Projection: true}}},
	}})
	if box.X+box.W != area.X+area.W || box.Y+box.H != area.Y+area.H || box.W != drawing.TitleWidth {
		t.Errorf("block %v is not in the corner of %v", box, area)
	}
	for _, it := range s.Items[from:] {
		if tx, ok := it.(drawing.Text); ok && tx.At.X+tx.Width() > box.X+box.W {
			t.Errorf("%q leaves the block", tx.String)
		}
	}
}

func TestCheckBarIs100(t *testing.T) {
	s := drawing.New(210, 60)
	s.CheckBar(drawing.Pt(40, 20), "")
	var lo, hi float64 = 1e9, 0
	for _, it := range s.Items {
		if d, ok := it.(drawing.Drawn); ok {
			b := d.Path.Bounds()
			lo, hi = min(lo, b.X), max(hi, b.X+b.W)
		}
	}
	if hi-lo != 100 {
		t.Errorf("check bar is %v mm", hi-lo)
	}
}

func TestTableSplit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tb := drawing.Table{Columns: []drawing.Column{{Head: "piece", Width: 30}, {Head: "what it is, and more", Width: 25}}}
		for range rapid.IntRange(0, 30).Draw(t, "rows") {
			tb.Rows = append(tb.Rows, drawing.Row{Cells: []string{"A1", rapid.StringMatching(`[a-z ]{0,60}`).Draw(t, "cell")}})
		}
		room := rapid.Float64Range(10, 120).Draw(t, "room")
		n := 0
		for rest := tb; ; {
			var first drawing.Table
			first, rest = rest.Split(room)
			if first.Height() > room && len(first.Rows) > 1 {
				t.Fatalf("part of %d rows is %v high, room %v", len(first.Rows), first.Height(), room)
			}
			if used := drawing.New(210, 297).Table(drawing.Pt(0, 0), first); math.Abs(used-first.Height()) > 1e-9 {
				t.Fatalf("drawn %v high, foretold %v", used, first.Height())
			}
			n += len(first.Rows)
			if len(rest.Rows) == 0 {
				break
			}
		}
		if n != len(tb.Rows) {
			t.Fatalf("%d rows of %d", n, len(tb.Rows))
		}
	})
}

func TestParagraphStaysInWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawing.Paragraph{At: drawing.Pt(10, 10), Width: rapid.Float64Range(20, 100).Draw(t, "width")}
		for range rapid.IntRange(1, 6).Draw(t, "spans") {
			p.Spans = append(p.Spans, drawing.Span{
				Text: rapid.StringMatching(`[a-z ,\n]{0,50}`).Draw(t, "text"),
				Face: drawing.Face(rapid.IntRange(0, 3).Draw(t, "face")),
			})
		}
		s := drawing.New(200, 200)
		if h := s.Paragraph(p); h != p.Height() {
			t.Fatalf("drawn %v high, foretold %v", h, p.Height())
		}
		for _, it := range s.Items {
			if tx, ok := it.(drawing.Text); ok && tx.At.X+tx.Width() > 10+p.Width+1e-9 {
				t.Fatalf("%q ends at %v", tx.String, tx.At.X+tx.Width())
			}
		}
	})
}

func TestChainRaisesNarrowFigures(t *testing.T) {
	s := drawing.New(200, 60)
	xs := []float64{10, 60, 63, 66, 69, 120}
	var ps []drawing.Point
	for _, x := range xs {
		ps = append(ps, drawing.Pt(x, 50))
	}
	s.Chain("c", 30, ps, []string{"200", "12", "12", "12", "204"}, drawing.Shop)
	var boxes []drawing.Rect
	for _, it := range s.Items {
		if tx, ok := it.(drawing.Text); ok {
			boxes = append(boxes, drawing.Rect{X: tx.At.X - tx.Width()/2, Y: tx.At.Y - 2.4, W: tx.Width(), H: 2.4})
		}
	}
	if len(boxes) != 5 {
		t.Fatalf("%d figures, want 5", len(boxes))
	}
	for i, a := range boxes {
		for _, b := range boxes[i+1:] {
			if overlap(a, b) {
				t.Errorf("figures at %v and %v meet", a, b)
			}
		}
	}
}

func TestPlaceMovesAndPrefixes(t *testing.T) {
	inner := drawing.New(20, 20)
	inner.Begin(drawing.Group{ID: "g", Data: [][2]string{{"station", "84"}}})
	inner.Text(drawing.Text{ID: "t", At: drawing.Pt(1, 2), String: "A1", Size: 3})
	inner.Add(drawing.Drawn{ID: "p", Path: drawing.Circle(drawing.Pt(3, 3), 1), Style: drawing.Filled(drawing.Ink)})
	inner.End()
	s := drawing.New(100, 100)
	s.Place(inner, drawing.Pt(10, 20), "a-")
	s.Place(inner, drawing.Pt(40, 20), "a-") // ids kept single
	svg := string(svgOf(t, s, drawing.SVGOptions{}))
	for _, want := range []string{`id="a-g"`, `id="a-g-2"`, `data-station="84"`, `x="11" y="22"`, `x="41" y="22"`, "M14,23"} {
		if !strings.Contains(svg, want) {
			t.Errorf("no %s in\n%s", want, svg)
		}
	}
	if b := inner.Items[2].(drawing.Drawn).Path.Bounds(); math.Abs(b.X-2) > 1e-12 {
		t.Error("the placed scene was changed")
	}
}

// TestSameNumbers: the lines of the PDF are the lines of the SVG.
func TestSameNumbers(t *testing.T) {
	s := sampleSheet()
	svg := string(svgOf(t, s, drawing.SVGOptions{}))
	pdf := string(pdfOf(t, []drawing.Page{{Scene: s}}, sampleMeta))
	var a, b []string
	for _, m := range regexp.MustCompile(` d="([^"]*)" *(?:fill="none" pointer)?`).FindAllStringSubmatch(svg, -1) {
		if strings.Contains(m[0], "pointer") {
			continue // link areas aren't drawn in the PDF
		}
		a = append(a, regexp.MustCompile(`[-\d.]+`).FindAllString(m[1], -1)...)
	}
	page := pdf[strings.Index(pdf, "cm 1 j"):strings.Index(pdf, "endstream")]
	for _, m := range regexp.MustCompile(`(?m)^((?:[-\d.]+ )+)[mlc]$`).FindAllStringSubmatch(page, -1) {
		b = append(b, strings.Fields(m[1])...)
	}
	if len(a) < 5000 || strings.Join(a, " ") != strings.Join(b, " ") {
		t.Errorf("SVG has %d numbers, PDF %d, or they differ", len(a), len(b))
	}
}

// contrast is by WCAG 2.2, relative luminance and contrast ratio.
func contrast(a, b string) float64 {
	lum := func(h string) float64 {
		var l float64
		for i, w := range []float64{0.2126, 0.7152, 0.0722} {
			var v float64
			for _, c := range h[1+2*i : 3+2*i] {
				v = v*16 + float64(strings.IndexRune("0123456789abcdef", c))
			}
			if v /= 255; v <= 0.04045 {
				v /= 12.92
			} else {
				v = math.Pow((v+0.055)/1.055, 2.4)
			}
			l += w * v
		}
		return l
	}
	x, y := lum(a), lum(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func TestPaletteContrast(t *testing.T) {
	for name, p := range map[string]drawing.Palette{"day": drawing.Day, "night": drawing.Night, "print": drawing.Print} {
		for _, ink := range []string{p.Ink, p.Ink2, p.Ink3, p.Pencil, p.Signal} {
			if c := contrast(ink, p.Sheet); c < 4.5 {
				t.Errorf("%s: %s on the sheet has %.2f, want 4.5 (WCAG 2.2, 1.4.3)", name, ink, c)
			}
		}
		for _, ground := range []string{p.TintA, p.TintB, p.Core, p.Shade} {
			if c := contrast(p.Ink, ground); c < 4.5 {
				t.Errorf("%s: ink on %s has %.2f", name, ground, c)
			}
		}
	}
}
