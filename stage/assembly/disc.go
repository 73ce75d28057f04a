package assembly

import (
	"math"
	"slices"

	"scalewright/model"
	"scalewright/solid"
)

// onAxis brings the loops of a piece to the build's axis; false where the piece
// is not turned on it.
func onAxis(part model.Part, shape Shape) ([][]model.Point, bool) {
	if part.OnBody() {
		return shape.Loops, len(shape.Loops) > 0
	}
	if part.Form == model.Flat && part.Plate.Lie == model.Across {
		return disc(part, shape)
	}
	frame := part.Frame()
	at := frame.Apply(solid.Vec{})
	along := frame.Turn(solid.Vec{0, 0, 1})
	if len(shape.Loops) == 0 || math.Hypot(at[0], at[1]) > onAxisWithin || math.Hypot(along[0], along[1]) > onAxisLean {
		return nil, false
	}
	var out [][]model.Point
	for _, loop := range shape.Loops {
		moved := slices.Clone(loop)
		for i := range moved {
			moved[i].Station = at[2] + along[2]*moved[i].Station
		}
		out = append(out, moved)
	}
	return out, true
}

// disc is what a plate across the axis takes at every clocking: out to the
// nearest place of its edge, in to the nearest place of a hole round the axis. A
// plate that the axis doesn't pierce is no disc.
func disc(part model.Part, shape Shape) ([][]model.Point, bool) {
	frame := part.Frame()
	edge := func(o model.Outline) (nearest float64, round bool) {
		var corners [][2]float64
		for _, p := range o.Polyline(0.1) {
			q := frame.Apply(solid.Vec{p.Station, p.Radius, 0})
			corners = append(corners, [2]float64{q[0], q[1]})
		}
		return around(corners)
	}
	out, round := edge(part.Plate.Outer)
	if !round || math.Abs(frame.Turn(solid.Vec{0, 0, 1})[2]) < 1-onAxisLean {
		return nil, false
	}
	in := 0.0
	for _, hole := range part.Plate.Holes {
		if r, round := edge(hole); round {
			in = r
		}
	}
	if in >= out {
		return nil, false
	}
	return tube(float64(shape.Span.From), float64(shape.Span.To), in, out), true
}

// around is how near a closed polygon comes to the origin, and whether it goes
// round it.
func around(corners [][2]float64) (nearest float64, round bool) {
	nearest = math.Inf(1)
	turns := 0.0
	for i, a := range corners {
		b := corners[(i+1)%len(corners)]
		dx, dy := b[0]-a[0], b[1]-a[1]
		t := 0.0
		if n := dx*dx + dy*dy; n > 0 {
			t = min(1, max(0, -(a[0]*dx+a[1]*dy)/n))
		}
		nearest = min(nearest, math.Hypot(a[0]+t*dx, a[1]+t*dy))
		turns += math.Atan2(a[0]*b[1]-a[1]*b[0], a[0]*b[0]+a[1]*b[1])
	}
	return nearest, math.Abs(turns) > math.Pi
}
