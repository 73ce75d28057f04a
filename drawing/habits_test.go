package drawing_test

import "scalewright/drawing"

// habitsSheet shows one of each habit that the sample sheet lacks: line
// styles, leaders both ways, slanting dimensions, a crowded chain, arcs,
// pictures, writing from right to left.
func habitsSheet() *drawing.Scene {
	s := drawing.New(180, 130)
	s.Title = "Habits of line and letter"
	for i, l := range []struct {
		name string
		st   drawing.Stroke
	}{
		{"outline", drawing.Outline},
		{"object", drawing.Object},
		{"thin", drawing.Thin},
		{"fine", drawing.Fine},
		{"centre line", drawing.CentreLine},
		{"hidden", drawing.Hidden},
		{"limit", drawing.Limit},
		{"proposed", drawing.Proposed},
		{"grid", drawing.Grid},
	} {
		y := 10 + 5*float64(i)
		s.Line(drawing.Pt(8, y), drawing.Pt(50, y), l.st)
		s.Text(drawing.Text{At: drawing.Pt(53, y), String: l.name, Size: drawing.SizeBody, V: drawing.Centre})
	}
	var ps []drawing.Point
	for _, x := range []float64{90, 110, 113.5, 117, 120.5, 124, 150, 156, 172} {
		ps = append(ps, drawing.Pt(x, 30))
	}
	s.Chain("chain", 22, ps, []string{"80", "14", "14.5", "14", "14", "104", "24", "64"}, drawing.Shop)
	s.Line(drawing.Pt(90, 30), drawing.Pt(172, 30), drawing.Outline)

	tri := drawing.Polygon(drawing.Pt(90, 70), drawing.Pt(130, 70), drawing.Pt(130, 45))
	s.Hatch(tri, drawing.Hatch{})
	s.Path(tri, drawing.Lined(drawing.Outline))
	s.Dimension(drawing.Dimension{From: drawing.Pt(90, 70), To: drawing.Pt(130, 45), Axis: drawing.Aligned, At: 7, Text: "47.2", Owner: drawing.Reference, Mark: true})
	s.Dimension(drawing.Dimension{From: drawing.Pt(130, 70), To: drawing.Pt(130, 45), Axis: drawing.Vertical, At: 138, Text: "25", Above: true})
	s.Dimension(drawing.Dimension{From: drawing.Pt(90, 70), To: drawing.Pt(130, 70), At: 77, Text: "40", Mark: true, Shift: -8})
	s.Leader(drawing.Leader{Tip: drawing.Pt(124, 60), Elbow: drawing.Pt(146, 52), Lines: []string{"spigot 18,", "clearance 0.33"}, Mark: true})
	s.Leader(drawing.Leader{Tip: drawing.Pt(110, 57.5), Elbow: drawing.Pt(92, 47), Lines: []string{"groove 12"}, Ending: drawing.Arrow, Owner: drawing.Reference, Mark: true})

	ring := drawing.Circle(drawing.Pt(30, 80), 18).Append(drawing.Circle(drawing.Pt(30, 80), 11))
	s.Path(ring, drawing.Style{Fill: drawing.TintB, EvenOdd: true})
	s.Hatch(ring, drawing.Hatch{Falling: true})
	s.Path(ring, drawing.Lined(drawing.Object))
	s.Path(drawing.RoundBox(drawing.Rect{X: 55, Y: 62, W: 24, H: 14}, 3), drawing.Style{Fill: drawing.Core, Stroke: drawing.Thin, Opacity: 0.5})
	s.Path((&drawing.Path{}).Arc(drawing.Pt(67, 92), 10, 180, 180), drawing.Lined(drawing.Proposed))

	for i, t := range []string{"עברית 252 mm", "⌀ 110 × 3.2, 4′-3 5⁄8″", "no glyph: 🚀", "Ångström, žluť, Ω"} {
		s.Text(drawing.Text{At: drawing.Pt(90, 92+6*float64(i)), String: t, Size: 4})
	}
	for i, h := range []drawing.HAlign{drawing.Start, drawing.Middle, drawing.End} {
		for j, v := range []drawing.VAlign{drawing.Baseline, drawing.Centre, drawing.Top} {
			at := drawing.Pt(150+10*float64(i), 94+8*float64(j))
			s.Path(drawing.Circle(at, 0.4), drawing.Filled(drawing.Signal))
			s.Text(drawing.Text{At: at, String: "A5", Size: 4, H: h, V: v, Rotate: -30 * float64(i)})
		}
	}
	for i, g := range []drawing.Grade{drawing.Note, drawing.Caution, drawing.Blocker} {
		s.Flag(drawing.Flag{Foot: drawing.Pt(20+14*float64(i), 122), Grade: g, Left: i == 2, Dot: true})
	}
	return s
}
