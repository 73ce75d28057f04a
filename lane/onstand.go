package lane

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/unit"
)

// OnStand is the build upright on its stand: centre of mass, the edge it would
// tip over, the push that it must bear. The scale comes back as the n of 1:n.
func OnStand(r job.Result, width, height float64, u unit.System) (*drawing.Scene, float64) {
	s := drawing.New(width, height)
	s.Title = "Elevation on its stand"
	stand, o, b := r.Design.Stand, r.Design.Outline, r.Structure.Stand
	if stand == nil || len(o) == 0 {
		return s, 0
	}
	up, down := beyond(r, o.MaxRadius())
	base := float64(stand.Across)
	wide := max(up+down, base)
	const left, right, above, below = 22.0, 34.0, 8.0, 20.0
	n := Reduction(max(float64(b.Height)/(height-above-below), wide/(width-left-right)))
	k := 1 / n
	s.Height = above + float64(b.Height)*k + below
	floor := s.Height - below
	middle := left + wide*k/2
	zero := floor - float64(stand.Thick+stand.Below)*k
	p := upright(k, drawing.Pt(middle, zero), false)

	top := zero
	if c := r.Design.Core; c != nil {
		top = zero - float64(c.Span.From+stand.Engage)*k
	}
	post := float64(stand.Post.OD) * k
	silhouettes(s, p, r, false, true)
	outside(s, p, r, 1, -1)
	silhouettes(s, p, r, true, true)
	s.Rect(drawing.Rect{X: middle - post/2, Y: top, W: post, H: floor - float64(stand.Thick)*k - top}, drawing.Lined(drawing.Hidden))
	if rings := b.Rings; rings.Outside > 0 {
		wide := float64(rings.Outside) * k
		for _, at := range rings.Stations {
			s.Line(drawing.Pt(middle-wide/2, zero-float64(at)*k), drawing.Pt(middle+wide/2, zero-float64(at)*k), drawing.Hidden)
		}
	}
	s.Rect(drawing.Rect{X: middle - base*k/2, Y: floor - float64(stand.Thick)*k, W: base * k, H: max(float64(stand.Thick)*k, 0.6)}, drawing.Style{Fill: drawing.Ink, Stroke: drawing.Thin})
	ground(s, 0, width, floor)

	// The centre of mass, and the line to the edge that it would tip over.
	mass := drawing.Pt(middle, floor-float64(b.Middle)*k)
	edge := drawing.Pt(middle+base*k/2, floor)
	s.Line(mass, edge, drawing.Thin)
	s.Line(drawing.Pt(edge.X, edge.Y), drawing.Pt(edge.X, mass.Y-14), drawing.CentreLine)
	massMark(s, mass)
	s.Text(drawing.Text{
		At: drawing.Pt(edge.X+2, mass.Y-8), String: fmt.Sprintf("tips at %.0f°", b.Tips*180/math.Pi), Size: drawing.SizeSmall, Halo: 0.6,
	})
	at := floor - float64(b.PushAt)*k
	tip := drawing.Pt(middle-o.RadiusAt(station(b.PushAt, stand.Thick+stand.Below))*k-2, at)
	s.Line(drawing.Pt(tip.X-14, at), tip, drawing.Outline)
	s.Path(drawing.Polyline(drawing.Pt(tip.X-3, at-1.5), tip, drawing.Pt(tip.X-3, at+1.5)), drawing.Lined(drawing.Outline))
	s.Text(drawing.Text{At: drawing.Pt(tip.X-15, at), H: drawing.End, V: drawing.Centre, String: fmt.Sprintf("%.0f N", b.Push), Size: drawing.SizeSmall, Halo: 0.6})
	s.Dimension(drawing.Dimension{
		ID: "stand-height", Axis: drawing.Vertical, At: width - 10, From: drawing.Pt(middle, floor),
		To: drawing.Pt(middle, floor-float64(b.Height)*k), Text: u.Figure(b.Height),
	})
	s.Dimension(drawing.Dimension{
		ID: "stand-middle", Axis: drawing.Vertical, At: width - 20, From: drawing.Pt(middle, floor), To: mass, Text: u.Figure(b.Middle),
	})
	s.Dimension(drawing.Dimension{
		ID: "stand-base", At: floor + 9, From: drawing.Pt(middle-base*k/2, floor), To: edge, Text: u.Figure(stand.Across),
	})
	return s, n
}

func station(height, foot unit.Length) float64 { return float64(height - foot) }

// massMark is the quartered circle of a centre of mass.
func massMark(s *drawing.Scene, at drawing.Point) {
	const r = 2.2
	s.Path(drawing.Circle(at, r), drawing.Style{Fill: drawing.Sheet, Stroke: drawing.Outline})
	round := func(degrees float64) drawing.Point {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return at.Add(drawing.Pt(r*cos, r*sin))
	}
	for _, from := range [...]float64{0, 180} {
		wedge := []drawing.Point{at}
		for a := 0.0; a <= 90; a += 15 {
			wedge = append(wedge, round(from+a))
		}
		s.Path(drawing.Polygon(wedge...), drawing.Filled(drawing.Ink))
	}
}
