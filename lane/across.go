package lane

import (
	"cmp"
	"math"
	"slices"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// StationsAcross are the fewest stations at which cuts across the body meet every
// bay: of those not met yet the one that ends first is cut, where it and all that
// begin before its end overlap.
func StationsAcross(r job.Result) []unit.Length {
	left := slices.Clone(r.Places.Bays)
	low := func(b model.Bay) unit.Length { return b.Centre[2] - halfAlong(b) }
	high := func(b model.Bay) unit.Length { return b.Centre[2] + halfAlong(b) }
	slices.SortStableFunc(left, func(a, b model.Bay) int { return cmp.Compare(high(a), high(b)) })
	var out []unit.Length
	for len(left) > 0 {
		first := left[0]
		from, to := low(first), high(first)
		left = slices.DeleteFunc(left, func(b model.Bay) bool {
			met := low(b) < to || b.Component == first.Component
			if met {
				from = max(from, low(b))
			}
			return met
		})
		out = append(out, (from+to)/2)
	}
	return out
}

// Across is the body cut across at a station and seen from its far end: pieces and
// core hatched, bays that the cut meets, and the holes for cables in what lies below.
// Clocking 0 is to the right. The scale is 1:n.
func Across(r job.Result, station unit.Length, side, n float64) *drawing.Scene {
	k := 1 / n
	s := drawing.New(side, side)
	s.Title = "Section across"
	middle := drawing.Pt(side/2, side/2)
	at := func(x, y float64) drawing.Point { return middle.Add(drawing.Pt(x*k, -y*k)) }
	reach := r.Design.Outline.RadiusAt(float64(station))*k + 3
	s.Line(middle.Add(drawing.Pt(-reach, 0)), middle.Add(drawing.Pt(reach, 0)), drawing.CentreLine)
	s.Line(middle.Add(drawing.Pt(0, -reach)), middle.Add(drawing.Pt(0, reach)), drawing.CentreLine)
	for i, c := range r.Carved {
		cut, err := solid.Sections(c.Solid, []float64{float64(station)})
		if err != nil || len(cut[0].Loops) == 0 {
			continue
		}
		path := &drawing.Path{}
		for _, loop := range cut[0].Loops {
			var points []drawing.Point
			for _, p := range loop {
				points = append(points, at(p[0], p[1]))
			}
			path.Append(drawing.Polygon(points...))
		}
		cutFace(s, path, float64(partOf(r, r.Division.Pieces[i]).Wall)*k)
	}
	ring := func(outer, inner float64) {
		path := drawing.Circle(middle, outer*k)
		if inner > 0 {
			path.Append(drawing.Circle(middle, inner*k))
		}
		cutFace(s, path, (outer-inner)*k)
	}
	if c := r.Design.Core; c != nil && c.Span.From <= station && station <= c.Span.To {
		ring(float64(c.Stock.OD)/2, math.Max(0, float64(c.Stock.OD)/2-float64(c.Stock.Wall)))
	}
	if d := r.Design.Stand; d != nil && r.Design.Core != nil && station < r.Design.Core.Span.From+d.Engage {
		ring(float64(d.Post.OD)/2, math.Max(0, float64(d.Post.OD)/2-float64(d.Post.Wall)))
	}
	var names []placeName
	for _, b := range r.Places.Bays {
		if b.Centre[2]-halfAlong(b) <= station && station <= b.Centre[2]+halfAlong(b) {
			names = append(names, bayAcross(s, b, at, middle, k))
		}
	}
	// Names stand in their bays, or round the body.
	naming := newNaming(s, drawing.Rect{W: side, H: side})
	body := r.Design.Outline.RadiusAt(float64(station)) * k
	naming.room.Cover(drawing.Circle(middle, body+1))
	naming.names = names
	naming.draw()
	return s
}

// cutFace is material that is cut: hatched, or black where it is thin on paper.
func cutFace(s *drawing.Scene, path *drawing.Path, thick float64) {
	if thick < solidWall {
		s.Path(path, drawing.Style{Fill: drawing.Ink, EvenOdd: true})
		return
	}
	s.Path(path, drawing.Style{Fill: drawing.Sheet, EvenOdd: true})
	s.Hatch(path, drawing.Hatch{})
	s.Path(path, drawing.Lined(drawing.Outline))
}

// bayAcross is a bay that is cut: its box, or both rims of its ring; and its name.
func bayAcross(s *drawing.Scene, b model.Bay, at func(x, y float64) drawing.Point, middle drawing.Point, k float64) placeName {
	if b.Wound > 0 {
		s.Path(drawing.Circle(middle, float64(b.Wound)*k), drawing.Lined(drawing.Hidden))
		s.Path(drawing.Circle(middle, float64(b.Wound-b.Size[0])*k), drawing.Lined(drawing.Hidden))
		return placeName{words: b.Component, tip: middle.Add(drawing.Pt(0, -float64(b.Wound-b.Size[0]/2)*k))}
	}
	// Bays stand square to the axis: two of their axes lie in the cut.
	var flat [][2]float64
	for i, axis := range b.Axes {
		if math.Abs(axis[2]) < 0.5 {
			half := float64(b.Size[i]) / 2
			flat = append(flat, [2]float64{axis[0] * half, axis[1] * half})
		}
	}
	x, y := float64(b.Centre[0]), float64(b.Centre[1])
	var rim []drawing.Point
	for _, c := range [...][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		rim = append(rim, at(x+c[0]*flat[0][0]+c[1]*flat[1][0], y+c[0]*flat[0][1]+c[1]*flat[1][1]))
	}
	s.Path(drawing.Polygon(rim...), drawing.Style{Fill: drawing.Shade, Stroke: drawing.Outline})
	return placeName{b.Component, at(x, y), inscribed(rim)}
}

// inscribed is an upright box inside a rectangle about its middle: all of it where it
// stands upright itself, else the square that fits whichever way it is turned.
func inscribed(rim []drawing.Point) drawing.Rect {
	b := drawing.Polygon(rim...).Bounds()
	a, c := rim[0].Dist(rim[1]), rim[1].Dist(rim[2])
	if math.Abs(a*c-b.W*b.H) < 1e-6*b.W*b.H { // no corner is cut off its bounds
		return b
	}
	side := min(a, c) / math.Sqrt2
	m := b.Centre()
	return drawing.Rect{X: m.X - side/2, Y: m.Y - side/2, W: side, H: side}
}
