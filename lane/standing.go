package lane

import (
	"math"
	"strconv"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/unit"
)

// person is how tall the figure beside the build is, mm.
const person = 1700.0

// A person is drawn beside builds of such a length: beside a smaller or larger
// one the eye gains nothing.
const (
	personLeast = 400.0
	personMost  = 4000.0
)

// Standing is the build upright on the floor, at the largest usual scale that
// fits the box, as high as that makes it, beside a person of 1700 mm where that says something. The scale
// comes back as the n of 1:n.
func Standing(r job.Result, width, height float64, u unit.System) (*drawing.Scene, float64) {
	s := drawing.New(width, height)
	s.Title = "Elevation, standing"
	o := r.Design.Outline
	if len(o) == 0 {
		return front(r, width, height, u)
	}
	up, down := beyond(r, o.MaxRadius())
	low, high := whole(r)
	long, across := o.End()-o.Start(), 2*o.MaxRadius()
	beside := long >= personLeast && long <= personMost
	const left, gap, below, above = 12.0, 6.0, 16.0, 6.0
	tall, wide := high-low, up+down
	if beside {
		tall = max(long, person)
		wide += person * personWide
	}
	room := width - left - 2
	if beside {
		room -= gap
	}
	n := Reduction(max(tall/(height-below-above), wide/room))
	k := 1 / n
	s.Height = above + tall*k + below
	floor := s.Height - below
	p := upright(k, drawing.Pt(left+up*k, floor+low*k), false)
	for level := metre(u) / 10; level*k < floor; level += metre(u) / 10 {
		s.Line(drawing.Pt(0, floor-level*k), drawing.Pt(width, floor-level*k), drawing.Grid.Wide(drawing.HairWidth))
	}
	if beside {
		silhouette(s, drawing.Pt(left+(up+down)*k+gap+person*personWide*k/2, floor), person*k)
		s.Text(drawing.Text{
			At: drawing.Pt(left+(up+down)*k+gap+person*personWide*k/2, floor-person*k-2.5), H: drawing.Middle,
			String: "a person of " + u.Figure(person), Size: drawing.SizeSmall, Halo: 0.6,
		})
	}
	silhouettes(s, p, r, false, true)
	outside(s, p, r, 1, -1)
	silhouettes(s, p, r, true, true)
	axis := p.at(o.End(), 0).Sub(drawing.Pt(0, 4))
	s.Line(axis, p.at(o.Start(), 0).Add(drawing.Pt(0, 4)), drawing.CentreLine)
	ground(s, 0, width, floor)
	tonight(s, p, r)
	s.Dimension(drawing.Dimension{
		ID: "standing-overall", Axis: drawing.Vertical, At: 5, From: p.at(o.Start(), o.RadiusAt(o.Start())),
		To: p.at(o.End(), 0), Text: u.Figure(unit.Length(long)), Title: "overall length",
	})
	w := widest(o)
	s.Dimension(drawing.Dimension{
		ID: "standing-across", At: floor + 9, From: p.at(w.from, w.radius), To: p.at(w.from, -w.radius),
		Text: "⌀ " + u.Figure(unit.Length(across)), Owner: drawing.Reference, Mark: true, Title: "largest diameter",
	})
	return s, n
}

// metre is the unit of the lines behind the figure, of which every tenth is
// drawn: 100 mm, or 3 in.
func metre(u unit.System) float64 {
	if u == unit.FeetInches {
		return 10 * 6 * float64(unit.Inch)
	}
	return 1000
}

// Lines is the distance between the lines behind a standing figure.
func Lines(u unit.System) unit.Length { return unit.Length(metre(u) / 10) }

// tonight outlines the piece to print now.
func tonight(s *drawing.Scene, p plot, r job.Result) {
	for _, i := range shells(r) {
		piece := r.Division.Pieces[i]
		if piece.ID.String() != r.Verdict.Tonight {
			continue
		}
		clip := r.Design.Outline.Between(float64(piece.Span.From), float64(piece.Span.To))
		path := p.underProfile(clip, 1)
		path.Append(p.underProfile(clip, -1))
		for _, sign := range [...]float64{1, -1} {
			s.Path(p.line(closed(clip), sign), drawing.Lined(p.outline().Wide(2*p.outline().Width)))
		}
	}
}

// ground is the floor, with the hatch of ground below it.
func ground(s *drawing.Scene, from, to, y float64) {
	s.Hatch(drawing.Box(drawing.Rect{X: from, Y: y, W: to - from, H: 1.4}), drawing.Hatch{Stroke: drawing.Fine.In(drawing.Rule)})
	s.Line(drawing.Pt(from, y), drawing.Pt(to, y), drawing.Outline)
}

// reductions are the scales in use: those of ISO 5455:1979 (1, 2, 5 and tens),
// with 2.5, 3, 4, 6, 8, 12 and 15 between where the paper asks for them.
var reductions = [...]float64{0.1, 0.2, 0.5, 1, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 80, 100}

// Reduction is the n of the usual scale 1:n that is at least least; an
// enlargement is an n below 1.
func Reduction(least float64) float64 {
	for _, n := range reductions {
		if n >= least {
			return n
		}
	}
	return math.Ceil(least/100) * 100
}

// ScaleText writes a scale: 1:4, or 2:1.
func ScaleText(n float64) string {
	if n < 1 {
		return threeFigures(1/n) + ":1"
	}
	return "1:" + threeFigures(n)
}

// threeFigures rounds to three figures and writes all of them out: a scale has
// no exponent.
func threeFigures(x float64) string {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 3, 64), 64)
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
