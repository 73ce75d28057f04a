package drawing_test

import (
	"fmt"
	"math"

	"scalewright/drawing"
)

// The sample is invented: a finial for a lantern post, turned, on a pipe.
// Stations and radii are millimetres at full size.
type samplePiece struct {
	id, what, on     string
	from, to         float64
	hours, grams, bh string
}

var samplePieces = []samplePiece{
	{"L1", "foot, with the screw ring", "Teal", 0, 110, "14", "640", "3"},
	{"L2", "cove", "Teal", 110, 270, "16", "710", "4"},
	{"L3", "stem, lower", "Teal", 270, 470, "11", "420", "4"},
	{"L4", "stem, upper", "Plover", 470, 700, "13", "450", "4"},
	{"L5", "ball, lower half", "Teal", 700, 860, "17", "690", "6"},
	{"L6", "ball, upper half", "Teal", 860, 1020, "17", "680", "6"},
	{"L7", "urn", "Teal", 1020, 1280, "19", "830", "7"},
	{"L8", "spire", "Plover", 1280, 1560, "12", "380", "3"},
}

// sampleRadius is the outline of the finial.
func sampleRadius(st float64) float64 {
	switch {
	case st < 110:
		return 190
	case st < 270: // a cove: quarter of an ellipse, hollow
		t := (270 - st) / 160
		return 190 - 112*math.Sqrt(1-t*t)
	case st < 700:
		return 78 - 10*(st-270)/430
	case st < 1020: // the ball, cut by the stem
		d := st - 860
		return math.Sqrt(171*171 - d*d)
	case st < 1060:
		return 60
	case st < 1240:
		t := (st - 1060) / 180
		return 60 + 85*(0.5-0.5*math.Cos(math.Pi*t))
	case st < 1280:
		return 145
	default:
		t := (st - 1280) / 280
		return 100*(1-t)*(1-t) + 6
	}
}

// sampleLine is the outline between two stations on one side of the axis.
func sampleLine(at func(st, r float64) drawing.Point, from, to, side, less float64) []drawing.Point {
	var ps []drawing.Point
	n := int(math.Ceil((to - from) / 5))
	for i := range n + 1 {
		st := from + (to-from)*float64(i)/float64(n)
		st = min(max(st, from+1e-6), to-1e-6)
		ps = append(ps, at(st, side*max(0, sampleRadius(st)-less)))
	}
	return ps
}

// sampleElevation draws the half-section through a map of station and radius.
func sampleElevation(s *drawing.Scene, at func(st, r float64) drawing.Point) {
	s.Begin(drawing.Group{ID: "elevation", Title: "Elevation, upper half outside, lower half in section"})
	defer s.End()
	const end, wall = 1560.0, 14.0
	// Tinted pieces, upper half.
	for i, p := range samplePieces {
		ps := append(sampleLine(at, p.from, p.to, 1, 0), at(p.to, 0), at(p.from, 0))
		tint := drawing.TintA
		if i%2 == 1 {
			tint = drawing.TintB
		}
		s.Add(drawing.Drawn{ID: "piece-" + p.id, Path: drawing.Polygon(ps...), Style: drawing.Filled(tint)})
	}
	// The wall in section, each piece hatched against the way of its neighbour.
	for i, p := range samplePieces {
		out := sampleLine(at, p.from, p.to, -1, 0)
		in := sampleLine(at, p.from, p.to, -1, wall)
		ring := &drawing.Path{}
		for _, q := range out {
			ring.Line(q)
		}
		for j := len(in) - 1; j >= 0; j-- {
			ring.Line(in[j])
		}
		ring.Close()
		s.Hatch(ring, drawing.Hatch{Falling: i%2 == 1})
		s.Path(ring, drawing.Lined(drawing.Fine))
	}
	// Core rings between pipe and wall.
	for _, st := range []float64{70, 400, 640, 780, 940, 1230} {
		r := drawing.Polygon(at(st-12, -55), at(st+12, -55),
			at(st+12, -sampleRadius(st+12)+wall), at(st-12, -sampleRadius(st-12)+wall))
		s.Path(r, drawing.Filled(drawing.Sheet))
		s.Hatch(r, drawing.Hatch{Falling: true, Pitch: 0.9})
		s.Path(r, drawing.Lined(drawing.Fine))
	}
	// The pipe: dashed where hidden, solid in section.
	a, b := at(20, 0), at(1300, -55)
	s.Rect(drawing.Rect{X: a.X, Y: a.Y, W: b.X - a.X, H: b.Y - a.Y}, drawing.Filled(drawing.Core))
	pipe := drawing.Polygon(at(20, -48), at(1300, -48), at(1300, -55), at(20, -55))
	s.Path(pipe, drawing.Style{Fill: drawing.Ink})
	s.Path(drawing.Polyline(at(20, 0), at(20, 55), at(1300, 55), at(1300, 0)), drawing.Lined(drawing.Hidden))
	// Outline, seams, axis.
	for i, p := range samplePieces {
		if i > 0 {
			r := max(sampleRadius(p.from-1), sampleRadius(p.from+1))
			s.Line(at(p.from, r), at(p.from, 0), drawing.Object)
		}
	}
	for _, side := range []float64{1, -1} {
		line := []drawing.Point{at(0, 0)}
		for _, p := range samplePieces {
			line = append(line, sampleLine(at, p.from, p.to, side, 0)...)
		}
		s.Path(drawing.Polyline(append(line, at(end, 0))...), drawing.Lined(drawing.Outline))
	}
	s.Line(at(-40, 0), at(end+40, 0), drawing.CentreLine)
	for _, p := range samplePieces {
		mid := (p.from + p.to) / 2
		s.Text(drawing.Text{
			At: at(mid, min(30, sampleRadius(mid)*0.45)), String: p.id, Face: drawing.Bold,
			Size: 3.8, H: drawing.Middle, V: drawing.Centre, Halo: 0.6,
		})
	}
}

// sampleSheet is an A3 sheet with all that the package draws.
func sampleSheet() *drawing.Scene {
	s, area := drawing.NewSheet(drawing.A3Landscape)
	s.Title = "Lantern finial, general arrangement"
	s.Desc = "Half-section with lengths and diameters, the verdict in words, the list of pieces, a title block and a check bar."
	const scale, x0, axis = 0.2, 52.0, 88.0
	at := func(st, r float64) drawing.Point { return drawing.Pt(x0+st*scale, axis-r*scale) }
	sampleElevation(s, at)

	var ends []drawing.Point
	var texts []string
	for i, p := range samplePieces {
		ends = append(ends, at(p.from, max(sampleRadius(p.from-1), sampleRadius(p.from+1))))
		texts = append(texts, fmt.Sprintf("%.0f", p.to-p.from))
		if i == len(samplePieces)-1 {
			ends = append(ends, at(p.to, 6))
		}
	}
	s.Chain("chain", 36, ends, texts, drawing.Shop)
	s.Dimension(drawing.Dimension{
		ID: "overall", From: at(0, 190), To: at(1560, 6), At: 26, Text: "1560 mm", Mark: true,
	})
	s.Dimension(drawing.Dimension{
		ID: "across-ball", Axis: drawing.Vertical, From: at(830, 168), To: at(830, -168), At: at(830, 0).X,
		Text: "⌀ 342", Owner: drawing.Reference, Mark: true, NoExtension: true, Shift: 15,
	})
	s.Dimension(drawing.Dimension{
		ID: "across-foot", Axis: drawing.Vertical, From: at(0, 190), To: at(0, -190), At: at(-45, 0).X,
		Text: "⌀ 380", Owner: drawing.Reference, Mark: true, Shift: 12,
	})
	s.Dimension(drawing.Dimension{
		ID: "rim", From: at(1240, -145), To: at(1280, -145), At: at(0, -175).Y, Text: "40", Owner: drawing.Reference, Mark: true,
	})

	s.Flag(drawing.Flag{
		ID: "flag-rim", Foot: at(1262, 145), Grade: drawing.Blocker, Dot: true, Title: "Blocker at station 1262: the rim of the urn is 0.84 thick.",
	})
	// The lower half in boxes as wide as a label's letter, for words to keep off.
	var keep []drawing.Rect
	for st := 0.0; st < 1560; st += 20 {
		lo := at(st, 0)
		r := max(sampleRadius(st), sampleRadius(st+20), 55)
		keep = append(keep, drawing.Rect{X: lo.X, Y: lo.Y, W: 20 * scale, H: r * scale})
	}
	clear := []drawing.Rect{{X: at(1200, 0).X, Y: at(0, -165).Y, W: 34, H: 5}}
	words := func(t ...string) []drawing.LabelLine {
		var ls []drawing.LabelLine
		for i, x := range t {
			l := drawing.LabelLine{Text: x, Colour: drawing.Ink}
			if i > 0 {
				l.Face = drawing.Bold
			}
			ls = append(ls, l)
		}
		return ls
	}
	s.Labels(drawing.PlaceLabels([]drawing.Label{
		{ID: "l-foot", At: at(70, -182), Station: 70, Lines: words("screw ring, 4 × M4")},
		{ID: "l-wall", At: at(560, -66), Station: 560, Lines: words("wall 14.0")},
		{ID: "l-core", At: at(330, -38), Station: 330, Lines: words("core, pipe 110 × 3.2")},
		{ID: "l-ball", At: at(900, -160), Station: 900, Lines: words("seam on the widest line")},
		{
			ID: "l-rim", At: at(1255, -138), Station: 1255, Grade: drawing.Blocker,
			Lines: words("Rim 0.84 thick; the nozzle wants 1.20.", "Thicken inward 0.40."),
		},
		{ID: "l-spire", At: at(1420, -22), Station: 1420, Lines: words("lamp in the spire")},
	}, drawing.PlaceOptions{Area: drawing.Rect{X: 34, Y: 92, W: 370, H: 46}, Keep: keep, Clear: clear}))
	s.Letter(drawing.Pt(x0, 140), 3.4, drawing.Regular,
		"Elevation, upper half outside, lower half in section. Scale 1:5.")

	sampleWords(s)
	sampleTable(s, drawing.Pt(241, 142))
	s.TitleBlock(area, sampleTitle())
	s.CheckBar(drawing.Pt(32, 264), "100 mm check bar. Lay a rule on it; if it is not 100, print again at 100 %.")
	return s
}

func sampleWords(s *drawing.Scene) {
	s.Text(drawing.Text{At: drawing.Pt(32, 156), String: "At 1560 mm", Face: drawing.Bold, Size: drawing.SizeTitle})
	y := 159.0
	y += s.Paragraph(drawing.Paragraph{
		At: drawing.Pt(32, y), Width: 150, Spans: []drawing.Span{
			{Text: "14 prints", Face: drawing.Bold},
			{Text: " on two printers, "},
			{Text: "6 spools", Face: drawing.Bold},
			{Text: ", 128 printing hours, 39 bench hours, about "},
			{Text: "190\u00a0€", Face: drawing.Bold},
			{Text: ". Likely 3 May, safe 9 May; 91 in 100 by the opening. The whole stack goes together without rework 94 times in 100."},
		},
	})
	y += 7
	s.Text(drawing.Text{At: drawing.Pt(32, y), String: "Three things will go wrong", Face: drawing.Bold, Size: drawing.SizeHead})
	y += 5
	for _, f := range []struct {
		grade            drawing.Grade
		say, remedy, why string
	}{
		{drawing.Blocker, "The rim of the urn is 0.84. A 0.6 nozzle needs 1.20.", "Thicken inward 0.40.", "9 g and 0.2 h more"},
		{drawing.Caution, "It tips at 6.1 degrees. It stands on its foot alone; a stair wants 10.", "Add a 460 floor plate.", "12 mm ply, 17 €; tips at 19"},
		{drawing.Note, "L5 and L6 meet on the ball's widest line.", "Turn the seam to the wall.", "no cost"},
	} {
		s.Flag(drawing.Flag{Foot: drawing.Pt(32, y+6.5), Grade: f.grade, Title: f.say})
		s.Letter(drawing.Pt(39, y+2.6), 3.5, drawing.Regular, f.say)
		s.Letter(drawing.Pt(39, y+7.4), 3.5, drawing.Bold, f.remedy)
		s.Letter(drawing.Pt(43+drawing.Measure(f.remedy, drawing.Bold, 3.5), y+7.4), 3.1, drawing.Regular, f.why)
		y += 12
	}
	s.Letter(drawing.Pt(32, y+5), drawing.SizeText, drawing.Regular, "Print first: L3, 11 h on Teal. It stays right whatever changes later.")
	x := 150.0
	for i, o := range []drawing.Owner{drawing.Reference, drawing.Shop} {
		yy := 263 + float64(i)*5
		w := s.OwnerMark(drawing.Pt(x, yy), 3.2, o)
		s.Text(drawing.Text{
			At: drawing.Pt(x+w+1.2, yy), Size: 3.1, Face: o.Face(), Colour: o.Colour(),
			String: []string{"of the shop: stays", "of the reference: grows"}[i^1],
		})
	}
}

func sampleTable(s *drawing.Scene, at drawing.Point) {
	t := drawing.Table{ID: "pieces", Size: 3.2, Columns: []drawing.Column{
		{Head: "piece", Width: 15, Face: drawing.Bold},
		{Head: "what it is", Width: 55},
		{Head: "on", Width: 22},
		{Head: "long", Width: 18, Align: drawing.End},
		{Head: "h", Width: 16, Align: drawing.End},
		{Head: "g", Width: 18, Align: drawing.End},
		{Head: "bench h", Width: 20, Align: drawing.End},
	}}
	for _, p := range samplePieces {
		t.Rows = append(t.Rows, drawing.Row{ID: "row-" + p.id, To: "page-" + p.id, Cells: []string{
			p.id, p.what, p.on, fmt.Sprintf("%.0f", p.to-p.from), p.hours, p.grams, p.bh,
		}})
	}
	t.Rows = append(t.Rows,
		drawing.Row{Cells: []string{"C1, C2", "core rings, six of them, printed flat and bored together", "Teal", "24", "9", "310", "2"}},
		drawing.Row{Face: drawing.Bold, Cells: []string{"all", "14 prints, 6 spools", "", "", "128", "5110", "39"}})
	s.Table(at, t)
}

func sampleTitle() drawing.TitleBlock {
	const ref = drawing.Reference
	return drawing.TitleBlock{Rows: []drawing.TitleRow{
		{Height: 11.5, Cells: []drawing.Cell{
			{Caption: "Reference", Value: "208.0 mm", Width: 36, Owner: ref, Size: 3.6},
			{Caption: "Enlargement", Value: "×7.5", Width: 24, Owner: ref, Size: 3.6},
			{Caption: "Across the foot", Value: "380 mm", Width: 36, Owner: ref, Size: 3.6},
			{Caption: "Core", Value: "drain pipe EN 1401, 110 × 3.2", Width: 84, Size: 3.6},
		}},
		{Height: 11.5, Cells: []drawing.Cell{
			{Caption: "Findings", Value: "1 blocker, 1 caution, 1 note", Width: 54},
			{Caption: "Mass", Value: "8.1 kg", Width: 22},
			{Caption: "Printers", Value: "Teal 400 × 400 × 300, Plover 250 × 250 × 300", Width: 76},
			{Caption: "Lengths in", Value: "mm", Width: 28},
		}},
		{Height: 15, Cells: []drawing.Cell{
			{Caption: "Build", Value: "Lantern finial", Width: 96, Size: 8, Face: drawing.Bold},
			{Caption: "Overall", Value: "1560 mm", Width: 42, Size: 5.2, Face: drawing.Bold},
			{Caption: "Scale", Value: "1:5", Width: 22, Size: 5.2, Face: drawing.Bold},
			{Caption: "Rev", Value: "B", Width: 20, Size: 5.2, Face: drawing.Bold},
		}},
		{Height: 15, Cells: []drawing.Cell{
			{Caption: "Sheet name", Value: "General arrangement", Width: 66, Size: 4.6},
			{Caption: "Drawn", Value: "2 Mar 2026", Width: 30, Size: 3.6},
			{Caption: "Drawn by, checked by", Value: "by hand; by rule", Width: 42, Size: 3.6},
			{Caption: "Sheet", Value: "1 of 9", Width: 42, Size: 6, Face: drawing.Bold, Projection: true},
		}},
	}}
}

// samplePages are the sheet and two small pages with links between them.
func samplePages() []drawing.Page {
	pages := []drawing.Page{{ID: "arrangement", Scene: sampleSheet(), Bookmarks: []drawing.Bookmark{
		{Title: "General arrangement"}, {Title: "List of pieces", Level: 1, Y: 133},
	}}}
	for _, p := range samplePieces[:2] {
		s, area := drawing.NewSheet(drawing.A4Portrait)
		s.Letter(drawing.Pt(area.X+8, 28), drawing.SizeTitle, drawing.Bold, p.id+" "+p.what)
		s.Letter(drawing.Pt(area.X+8, 40), drawing.SizeText, drawing.Regular, "Back to the general arrangement")
		s.Link(drawing.Rect{X: area.X + 7, Y: 35, W: 60, H: 7}, "arrangement")
		s.CheckBar(drawing.Pt(area.X+8, 60), "100 mm check bar.")
		pages = append(pages, drawing.Page{ID: "page-" + p.id, Scene: s, Bookmarks: []drawing.Bookmark{{Title: p.id}}})
	}
	return pages
}
