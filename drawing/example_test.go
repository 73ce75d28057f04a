package drawing_test

import (
	"fmt"
	"io"
	"os"
	"strings"

	"scalewright/drawing"
)

// A small elevation with its dimensions.
func ExampleScene_Dimension() {
	s := drawing.New(60, 40)
	s.Title = "Ring"
	body := drawing.Box(drawing.Rect{X: 10, Y: 20, W: 40, H: 15})
	s.Path(body, drawing.Style{Fill: drawing.TintA, Stroke: drawing.Outline})
	s.Dimension(drawing.Dimension{ID: "length", From: drawing.Pt(10, 20), To: drawing.Pt(50, 20), At: 10, Text: "160"})
	if err := drawing.SVG(os.Stdout, s, drawing.SVGOptions{}); err != nil {
		fmt.Println(err)
	}
	// Output:
	// <svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40" role="img" font-family="'DejaVu Sans Condensed','DejaVu Sans',sans-serif" font-stretch="condensed" style="font-kerning:none" fill="none" stroke-linejoin="round">
	//  <title>Ring</title>
	//  <path d="M10,20L50,20L50,35L10,35Z" fill="#e9eff0" stroke="#000000" stroke-width="0.5"/>
	//  <g id="length" class="dimension" role="group" aria-label="160">
	//   <title>160</title>
	//   <path d="M10,19L10,8.6" stroke="#000000" stroke-width="0.18"/>
	//   <path d="M50,19L50,8.6" stroke="#000000" stroke-width="0.18"/>
	//   <path d="M9,11L11,9" stroke="#000000" stroke-width="0.35"/>
	//   <path d="M49,11L51,9" stroke="#000000" stroke-width="0.35"/>
	//   <path d="M10,10L26.067,10" stroke="#000000" stroke-width="0.25"/>
	//   <path d="M33.933,10L50,10" stroke="#000000" stroke-width="0.25"/>
	//   <text x="30" y="11.203" font-size="3.3" text-anchor="middle" stroke="#ffffff" stroke-width="1.4" paint-order="stroke" fill="#000000">160</text>
	//  </g>
	// </svg>
}

// Two pages with links between them.
func ExamplePDF() {
	sheet, area := drawing.NewSheet(drawing.A3Landscape)
	sheet.Letter(drawing.Pt(30, 30), drawing.SizeTitle, drawing.Bold, "General arrangement")
	sheet.TitleBlock(area, drawing.TitleBlock{Rows: []drawing.TitleRow{
		{Height: 12, Cells: []drawing.Cell{{Caption: "Build", Value: "Lantern finial", Width: 1}}},
	}})
	piece, _ := drawing.NewSheet(drawing.A4Portrait)
	piece.CheckBar(drawing.Pt(40, 250), "100 mm check bar.")
	piece.Link(drawing.Rect{X: 30, Y: 20, W: 40, H: 8}, "ga")
	var out strings.Builder
	err := drawing.PDF(&out, []drawing.Page{
		{ID: "ga", Scene: sheet, Bookmarks: []drawing.Bookmark{{Title: "General arrangement"}}},
		{ID: "L1", Scene: piece, Bookmarks: []drawing.Bookmark{{Title: "L1 foot"}}},
	}, drawing.Meta{Title: "Lantern finial", Lang: "en"})
	fmt.Println(out.String()[:8], strings.Count(out.String(), "/Type /Page\n"), "pages", err)
	// Output: %PDF-1.3 2 pages <nil>
}

func ExamplePlaceLabels() {
	placed := drawing.PlaceLabels([]drawing.Label{
		{At: drawing.Pt(40, 30), Station: 40, Lines: []drawing.LabelLine{{Text: "socket, 5 V supply"}}},
		{At: drawing.Pt(42, 30), Station: 42, Grade: drawing.Blocker, Lines: []drawing.LabelLine{{Text: "wall 0.84"}}},
	}, drawing.PlaceOptions{Area: drawing.Rect{W: 100, H: 60}})
	for _, p := range placed {
		fmt.Printf("%s: found %v, overlaps the other %v\n", p.Lines[0].Text, p.Found, placed[0].Box.Overlaps(placed[1].Box))
	}
	// Output:
	// socket, 5 V supply: found true, overlaps the other false
	// wall 0.84: found true, overlaps the other false
}

func ExampleWrap() {
	for _, l := range drawing.Wrap("The wall at the groove is 0.84. A 0.6 nozzle needs 1.20.", drawing.Regular, 3.3, 50) {
		fmt.Println(l)
	}
	// Output:
	// The wall at the groove is 0.84. A
	// 0.6 nozzle needs 1.20.
}

// An elevation through a map of station and radius, on a sheet.
func ExampleNewSheet() {
	s, area := drawing.NewSheet(drawing.A3Landscape)
	s.Title = "Ring A4, half-section"
	at := func(station, r float64) drawing.Point { return drawing.Pt(60+station/4, 90-r/4) } // 1:4
	s.Begin(drawing.Group{ID: "elevation", Title: "Elevation, lower half in section"})
	s.Path(drawing.Polygon(at(0, 0), at(0, 126), at(208, 126), at(208, 0)),
		drawing.Style{Fill: drawing.TintB, Stroke: drawing.Outline})
	wall := drawing.Polygon(at(0, -126), at(208, -126), at(208, -122), at(0, -122))
	s.Hatch(wall, drawing.Hatch{})
	s.Path(wall, drawing.Lined(drawing.Thin))
	s.Line(at(-30, 0), at(238, 0), drawing.CentreLine)
	s.Text(drawing.Text{At: at(104, 60), String: "A4", Face: drawing.Bold, Size: 3.8, H: drawing.Middle, Halo: 0.6})
	s.End()
	s.Dimension(drawing.Dimension{
		ID: "dim-length", From: at(0, 126), To: at(208, 126), At: 45,
		Text: "208", Mark: true, Title: "length 208, of the shop",
	})
	s.Dimension(drawing.Dimension{
		ID: "dim-across", Axis: drawing.Vertical, From: at(60, 126), To: at(60, -126), At: at(60, 0).X,
		Text: "⌀ 252", Owner: drawing.Reference, Mark: true, NoExtension: true, Shift: 14,
	})
	s.Leader(drawing.Leader{Tip: at(150, -124), Elbow: at(200, -180), Lines: []string{"wall 4.0"}, Mark: true})
	fmt.Println(area, len(s.Items) > 50, drawing.SVG(io.Discard, s, drawing.SVGOptions{}))
	// Output: {20 10 390 277} true <nil>
}
