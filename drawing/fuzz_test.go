package drawing_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"testing"
	"unicode/utf8"

	"scalewright/drawing"
)

// FuzzText letters any string in every place that takes one: both files must
// stay whole, and measuring must give a width.
func FuzzText(f *testing.F) {
	for _, s := range []string{
		"", "A4", "a\x00b\x07\r\n\tc", "שלום 252 עולם", "مرحبا", "🚀 rocket 👩‍🔧", "\xff\xfe broken \xc3",
		`)(\ <&>"' ]]>`, "e\u0301 \u202e evil \u2069", "\ufffe\uffff\U0010ffff", "{nb} %PDF endstream endobj",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, str string) {
		if len(str) > 2000 {
			t.Skip("longer than a label")
		}
		s, area := drawing.NewSheet(drawing.A4Portrait)
		s.Title, s.Desc = str, str
		s.Begin(drawing.Group{ID: str, Class: str, Title: str})
		s.Text(drawing.Text{ID: str, At: drawing.Pt(105, 50), String: str, Size: 4, H: drawing.Middle, V: drawing.Top, Halo: 0.5, Rotate: 30})
		s.End()
		s.Paragraph(drawing.Paragraph{ID: str, At: drawing.Pt(30, 60), Width: 60, Spans: []drawing.Span{{Text: str}, {Text: str, Face: drawing.Bold}}})
		s.Table(drawing.Pt(30, 90), drawing.Table{
			Columns: []drawing.Column{{Head: str, Width: 20}, {Head: "n", Width: 20, Align: drawing.End}},
			Rows:    []drawing.Row{{ID: str, Cells: []string{str, str}, To: str}},
		})
		s.Dimension(drawing.Dimension{From: drawing.Pt(30, 20), To: drawing.Pt(90, 20), At: 30, Text: str})
		s.TitleBlock(area, drawing.TitleBlock{Rows: []drawing.TitleRow{{Height: 12, Cells: []drawing.Cell{{Caption: str, Value: str, Width: 1}}}}})

		var svg bytes.Buffer
		if err := drawing.SVG(&svg, s, drawing.SVGOptions{IDPrefix: str}); err != nil {
			t.Fatal(err)
		}
		if !utf8.Valid(svg.Bytes()) {
			t.Fatal("SVG is not UTF-8")
		}
		ids := map[string]bool{}
		for d := xml.NewDecoder(&svg); ; {
			tok, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("SVG broken: %v", err)
			}
			if e, ok := tok.(xml.StartElement); ok {
				for _, a := range e.Attr {
					if a.Name.Local != "id" {
						continue
					}
					if ids[a.Value] {
						t.Fatalf("id %q twice", a.Value)
					}
					ids[a.Value] = true
				}
			}
		}
		pdf := pdfOf(t, []drawing.Page{{ID: str, Scene: s, Bookmarks: []drawing.Bookmark{{Title: str, Level: 3, Y: 1e6}}}},
			drawing.Meta{Title: str, Author: str, Lang: str, Keywords: str, Creator: str})
		checkPDF(t, pdf)
		if w := drawing.Measure(str, drawing.Bold, 3); !(w >= 0) {
			t.Fatalf("Measure = %v", w)
		}
	})
}
