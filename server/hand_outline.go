package server

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/limb"
	"scalewright/model"
)

// sides of a body, as a photograph shows them.
var sides = [2]limb.Side{limb.Left, limb.Right}

// mostTurn is the largest turn of a normal along the axis at which a corner is shown:
// past it its side is a face, which the camera may not see at all.
const mostTurn = 80 * math.Pi / 180

// turnOf is how far the normal of a line from one place to another is turned towards
// rising stations.
func turnOf(from, to model.Point) float64 {
	return math.Atan2(from.Radius-to.Radius, to.Station-from.Station)
}

// turnsOf are the turns at both ends of a segment.
func turnsOf(s model.Segment) (first, last float64) {
	if s.Kind != model.Arc {
		t := turnOf(s.From, s.To)
		return t, t
	}
	// Square to the radius, on the side that looks away from the axis.
	out := bulge(s)
	at := func(p model.Point) float64 {
		return math.Atan2(out*(p.Station-s.Centre.Station), out*(p.Radius-s.Centre.Radius))
	}
	return at(s.From), at(s.To)
}

// bulge is 1 for an arc that bulges away from the axis, -1 for a hollow one.
func bulge(s model.Segment) float64 {
	if (s.From.Radius+s.To.Radius)/2 < s.Centre.Radius {
		return -1
	}
	return 1
}

// turnAt is the turn of the normal at which a corner is seen, or the middle of an arc:
// of all that lie between its two neighbours', the one nearest to square to the axis.
func turnAt(o model.Outline, k int, arc bool) float64 {
	if arc {
		first, last := turnsOf(o[k])
		return min(max((first+last)/2, -mostTurn), mostTurn)
	}
	before, after := -math.Pi/2, math.Pi/2 // the faces at both ends
	if k > 0 {
		_, before = turnsOf(o[k-1])
	}
	if k < len(o) {
		after, _ = turnsOf(o[k])
	}
	least, most := min(before, after), max(before, after)
	square := min(max(0, least), most)
	return min(max(square, -mostTurn), mostTurn)
}

// cornerOf is where a corner of an outline lies, or the middle of an arc.
func cornerOf(o model.Outline, k int, arc bool) model.Point {
	switch {
	case arc:
		return o[k].Middle()
	case k == len(o):
		return o[k-1].To
	}
	return o[k].From
}

// px rounds a pixel for an answer.
func px(p r2.Vec) [2]float64 { return [2]float64{hundredth(p.X), hundredth(p.Y)} }

// arcSteps is into how many straight pieces an arc of the outline is shown.
const arcSteps = 16

// lineOf is a stretch of the outline as a side shows it.
func lineOf(p limb.Pose, o model.Outline, side limb.Side) [][2]float64 {
	out := [][2]float64{}
	add := func(at model.Point, turn float64) {
		if q, ok := p.Edge(at.Station, at.Radius, turn, side); ok {
			out = append(out, px(q))
		}
	}
	for _, s := range o {
		first, last := turnsOf(s)
		if s.Kind != model.Arc {
			add(s.From, first)
			add(s.To, last)
			continue
		}
		for i := range arcSteps + 1 {
			t := float64(i) / arcSteps
			turn := first + t*(last-first)
			sin, cos := math.Sincos(turn)
			r := bulge(s) * s.R
			add(model.Point{Station: s.Centre.Station + r*sin, Radius: max(0, s.Centre.Radius+r*cos)}, turn)
		}
	}
	return out
}

// bandOf is where the profile lies 95 times in 100, as a side shows it: out along the
// larger radii and back along the smaller.
func bandOf(p limb.Pose, t model.Trace, side limb.Side) [][2]float64 {
	n := len(t.Profile)
	var outer, inner [][2]float64
	for k, at := range t.Profile {
		a, b := t.Profile[max(k-1, 0)], t.Profile[min(k+1, n-1)]
		turn := turnOf(model.Point{Station: a.Station, Radius: a.Radius.X}, model.Point{Station: b.Station, Radius: b.Radius.X})
		if math.Abs(turn) > mostTurn {
			continue
		}
		wide, ok1 := p.Edge(at.Station, at.Radius.X+2*at.Radius.U, turn, side)
		thin, ok2 := p.Edge(at.Station, max(0, at.Radius.X-2*at.Radius.U), turn, side)
		if ok1 && ok2 {
			outer, inner = append(outer, px(wide)), append(inner, px(thin))
		}
	}
	for k := len(inner) - 1; k >= 0; k-- {
		outer = append(outer, inner[k])
	}
	return outer
}
