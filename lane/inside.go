package lane

import (
	"fmt"
	"math"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/model"
	"scalewright/unit"
)

// Inside is the wall rolled out flat where something lies inside: clocking to the
// right, stations upwards; bays, openings, core rings, seams and the duct. The
// length round is that of the widest place.
func Inside(r job.Result, width, height float64, u unit.System) (*drawing.Scene, float64) {
	s := drawing.New(width, height)
	s.Title = "Inside, rolled out"
	low, high := math.Inf(1), math.Inf(-1)
	for _, b := range r.Places.Bays {
		half := float64(halfAlong(b))
		low, high = min(low, float64(b.Centre[2])-half), max(high, float64(b.Centre[2])+half)
	}
	if low > high {
		return s, 0
	}
	low, high = low-30, high+30
	const left, right, above, below = 16.0, 4.0, 4.0, 12.0
	round := 2 * math.Pi * r.Design.Outline.MaxRadius()
	n := Reduction(max(round/(width-left-right), (high-low)/(height-above-below)))
	k := 1 / n
	s.Height = above + (high-low)*k + below
	at := func(turn, station float64) drawing.Point {
		return drawing.Pt(left+round*k*turn, above+(high-station)*k)
	}
	s.Rect(drawing.Rect{X: left, Y: above, W: round * k, H: (high - low) * k}, drawing.Style{Fill: drawing.Sheet, Stroke: drawing.Object})
	for q := range 9 {
		x := at(float64(q)/8, low)
		s.Line(x, x.Add(drawing.Pt(0, 2)), drawing.Thin)
		s.Text(drawing.Text{At: x.Add(drawing.Pt(0, 6)), H: drawing.Middle, String: fmt.Sprintf("%d°", 45*q), Size: drawing.SizeSmall})
	}
	for _, seat := range r.Division.Seats {
		from, to := float64(seat.Span.From), float64(seat.Span.To)
		if to < low || from > high {
			continue
		}
		s.Rect(drawing.Rect{X: left, Y: at(0, to).Y, W: round * k, H: (to - from) * k}, drawing.Filled(drawing.Shade))
	}
	for _, seam := range r.Division.Seams {
		if z := float64(seam.Station); z > low && z < high {
			s.Line(at(0, z), at(1, z), drawing.Thin)
			s.Text(drawing.Text{At: at(0, z).Add(drawing.Pt(-1.5, 0)), H: drawing.End, V: drawing.Centre, String: u.Figure(seam.Station), Size: drawing.SizeSmall})
		}
	}
	insideDuct(s, r, at, low, high)
	for _, o := range r.Design.Openings {
		insideOpening(s, o, r.Design.Outline.RadiusAt(float64(o.Station)), at, k)
	}
	var boxes []drawing.Rect
	for _, b := range r.Places.Bays {
		boxes = append(boxes, insideBay(s, b, at, k, round))
	}
	for _, o := range r.Design.Openings {
		insideName(s, o, at, k)
	}
	names := newNaming(s, drawing.Rect{X: left + 1, Y: above + 1, W: round*k - 2, H: (high-low)*k - 2})
	for i, b := range r.Places.Bays {
		names.name(b.Component, boxes[i].Centre(), boxes[i])
	}
	names.draw()
	return s, n
}

// halfAlong is half of what a bay takes along the axis.
func halfAlong(b model.Bay) unit.Length {
	if b.Wound > 0 {
		return b.Size[2] / 2
	}
	half := 0.0
	for i, axis := range b.Axes {
		half += math.Abs(axis[2]) * float64(b.Size[i]) / 2
	}
	return unit.Length(half)
}

// insideDuct is the line that all cables run in.
func insideDuct(s *drawing.Scene, r job.Result, at func(turn, station float64) drawing.Point, low, high float64) {
	from, to := math.Inf(1), math.Inf(-1)
	for _, w := range r.Places.Ways {
		for _, q := range w.Path {
			from, to = min(from, float64(q[2])), max(to, float64(q[2]))
		}
	}
	for _, w := range r.Places.Ways {
		for _, p := range w.Passes {
			turn := turnShare(p.Clocking)
			s.Line(at(turn, max(low, from)), at(turn, min(high, to)), drawing.CentreLine)
			return
		}
	}
}

// insideOpening is an opening's rim; one over the edge is drawn on both sides.
func insideOpening(s *drawing.Scene, o model.Opening, radius float64, at func(turn, station float64) drawing.Point, k float64) {
	if radius == 0 {
		return
	}
	rim, _, _ := rolledOut(o, radius)
	for i := range rim {
		rim[i] = rim[i].Mul(k)
	}
	middle := at(turnShare(o.Clocking), float64(o.Station))
	s.Path(drawing.Polygon(rim...).Moved(middle), drawing.Style{Fill: drawing.Sheet, Stroke: drawing.Outline})
}

// insideName writes a panel's name under it; of other openings what sits in them
// bears one.
func insideName(s *drawing.Scene, o model.Opening, at func(turn, station float64) drawing.Point, k float64) {
	if !o.Panel {
		return
	}
	below := at(turnShare(o.Clocking), float64(o.Station)).Add(drawing.Pt(0, float64(max(o.Across, o.High))/2*k+3.4))
	s.Text(drawing.Text{At: below, H: drawing.Middle, String: o.ID, Size: drawing.SizeSmall, Halo: 0.6})
}

// insideBay is a bay's box seen along the radius, or a strip all round.
func insideBay(s *drawing.Scene, b model.Bay, at func(turn, station float64) drawing.Point, k, round float64) drawing.Rect {
	z, half := float64(b.Centre[2]), float64(halfAlong(b))
	box := drawing.Rect{X: at(0, z).X, Y: at(0, z+half).Y, W: round * k, H: 2 * half * k}
	if b.Wound <= 0 {
		x, y := float64(b.Centre[0]), float64(b.Centre[1])
		wide := 0.0
		for i, axis := range b.Axes {
			wide += math.Abs(-axis[0]*y+axis[1]*x) / math.Hypot(x, y) * float64(b.Size[i])
		}
		middle := at(turnShare(math.Atan2(y, x)), z)
		box.X, box.W = middle.X-wide*k/2, wide*k
	}
	s.Rect(box, drawing.Style{Stroke: drawing.Hidden})
	return box
}
