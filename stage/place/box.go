package place

import (
	"math"

	"scalewright/model"
	"scalewright/unit"
)

// lie is which of a component's length, width and height runs along the axis, round
// it and along the radius.
type lie [3]int

// lies are all positions; the first two lay it flat on the wall.
var lies = [...]lie{{0, 1, 2}, {1, 0, 2}, {0, 2, 1}, {2, 0, 1}, {1, 2, 0}, {2, 1, 0}}

// flat are how many of lies lay a component flat.
const flat = 2

// box is a bay being tried: its middle, and its size along the axis, round it and
// along the radius.
type box struct {
	lie
	station, clocking, radius float64
	along, round, deep        float64
	all                       bool // it lies all round the axis
}

// stand is a component's box in a position, its middle still unknown.
func stand(c model.Component, l lie) box {
	size := sizeOf(c)
	return box{lie: l, along: size[l[0]], round: size[l[1]], deep: size[l[2]]}
}

// sizeOf is a component with room round it and for plugs at the ends of its
// length.
func sizeOf(c model.Component) [3]float64 {
	return [3]float64{
		float64(c.Kind.Size[0]+2*c.Kind.Plug) + 2*spare, float64(c.Kind.Size[1]) + 2*spare, float64(c.Kind.Size[2]) + 2*spare,
	}
}

// over reports whether the box lies between a room's ends.
func (b box) over(r room) bool {
	return b.station-b.along/2 >= r.from && b.station+b.along/2 <= r.to
}

// out puts the box as far out as a radius lets its outer corners be. How much of
// the radius it lacks for what stands in the middle comes back: negative where
// there is room to spare.
func (b box) out(limit, inner float64) (box, float64) {
	if limit <= b.round/2 {
		return b, inner + b.deep + b.round/2 - limit
	}
	b.radius = math.Sqrt(limit*limit-b.round*b.round/4) - b.deep/2
	return b, inner + b.deep/2 - b.radius
}

// bay is the box as the build has it. Its axes are right-handed.
func (b box) bay(c model.Component, r room) model.Bay {
	sin, cos := math.Sincos(b.clocking)
	tangent := [3]float64{-sin, cos, 0}
	// Along, round, out is left-handed; an odd order of the three turns that round.
	if b.lie == (lie{0, 1, 2}) || b.lie == (lie{1, 2, 0}) || b.lie == (lie{2, 0, 1}) {
		tangent = [3]float64{sin, -cos, 0}
	}
	out := model.Bay{
		Component: c.ID, Part: r.part, Piece: r.piece.ID,
		Centre: [3]unit.Length{unit.Length(b.radius * cos), unit.Length(b.radius * sin), unit.Length(b.station)},
	}
	for k, axis := range [...][3]float64{{0, 0, 1}, tangent, {cos, sin, 0}} {
		out.Axes[b.lie[k]] = axis
		out.Size[b.lie[k]] = unit.Length([...]float64{b.along, b.round, b.deep}[k])
	}
	out.Reached = r.reached(c, out)
	return out
}
