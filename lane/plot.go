package lane

import (
	"scalewright/drawing"
	"scalewright/model"
)

// plot maps stations and radii onto paper. Positive radii lie in the half seen
// from outside, negative ones in the half in section.
type plot struct {
	origin drawing.Point // of station 0 on the axis
	scale  float64       // mm of paper a mm
	along  drawing.Point // where stations grow, a unit vector
	out    drawing.Point // where the outside half lies, a unit vector
}

// lying puts stations from left to right, the section below the axis.
func lying(scale float64, origin drawing.Point) plot {
	return plot{origin, scale, drawing.Pt(1, 0), drawing.Pt(0, -1)}
}

// upright puts stations from bottom to top, the section to the right; or from
// top to bottom where the nose is down.
func upright(scale float64, origin drawing.Point, noseDown bool) plot {
	if noseDown {
		return plot{origin, scale, drawing.Pt(0, 1), drawing.Pt(-1, 0)}
	}
	return plot{origin, scale, drawing.Pt(0, -1), drawing.Pt(-1, 0)}
}

func (p plot) at(station, radius float64) drawing.Point {
	return p.origin.Add(p.along.Mul(station * p.scale)).Add(p.out.Mul(radius * p.scale))
}

// polygon is a closed loop in the half of the sign.
func (p plot) polygon(loop []model.Point, sign float64) *drawing.Path {
	points := make([]drawing.Point, len(loop))
	for i, q := range loop {
		points[i] = p.at(q.Station, sign*q.Radius)
	}
	return drawing.Polygon(points...)
}

// line is an open line in the half of the sign.
func (p plot) line(points []model.Point, sign float64) *drawing.Path {
	t := &drawing.Path{}
	for _, q := range points {
		t.Line(p.at(q.Station, sign*q.Radius))
	}
	return t
}

// chordSag is how far chords drawn for arcs may lie from them, mm at full size:
// below a line's width at any scale that a sheet is drawn at.
const chordSag = 0.2

// underProfile is the area between the axis and an outline.
func (p plot) underProfile(o model.Outline, sign float64) *drawing.Path {
	points := o.Polyline(chordSag)
	if len(points) == 0 {
		return &drawing.Path{}
	}
	first, last := points[0], points[len(points)-1]
	loop := append([]model.Point{{Station: first.Station}}, points...)
	return p.polygon(append(loop, model.Point{Station: last.Station}), sign)
}

// smallScale is the scale below which lines of the usual width would crowd what
// they bound: the next lighter ones are taken, as ISO 128-2 has a group of widths
// go with the size of the drawing.
const smallScale = 0.1

// outline is the line round what is drawn, and seam that between its pieces.
func (p plot) outline() drawing.Stroke {
	if p.scale <= smallScale {
		return drawing.Object
	}
	return drawing.Outline
}

func (p plot) seam() drawing.Stroke {
	if p.scale <= smallScale {
		return drawing.Thin
	}
	return drawing.Object
}
