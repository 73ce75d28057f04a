package platform

import (
	"math"
	"slices"

	"scalewright/solid"
)

// Turn is the angle by which a hull is turned, anticlockwise, to lie in a
// rectangle of wide by deep, and whether it fits at all. A hull that fits as it
// is stays so; else it is the angle that leaves most room, as a share of the
// rectangle's sides.
//
// While no side of the hull is parallel to one of the rectangle's, the same
// corners are outermost, so width and depth are each one sinusoid of the angle,
// positive and so concave. The larger of their shares of the rectangle is then
// least where a side is parallel (G. T. Toussaint, Solving geometric problems
// with the rotating calipers, 1983) or where the two shares are equal.
func Turn(hull []solid.Point, wide, deep float64) (angle float64, fits bool) {
	if len(hull) == 0 || !(wide > 0) || !(deep > 0) {
		return 0, false
	}
	share := func(angle float64) float64 {
		w, d, _, _ := extent(hull, angle)
		return max(w/wide, d/deep)
	}
	best := share(0)
	if best <= 1 {
		return 0, true
	}
	try := func(a float64) {
		if s := share(a); s < best {
			angle, best = a, s
		}
	}
	at := events(hull)
	for i, from := range at {
		try(from)
		to := math.Pi
		if i+1 < len(at) {
			to = at[i+1]
		}
		_, _, w, d := extent(hull, (from+to)/2)
		equal := math.Atan2(w[0]/wide-d[1]/deep, d[0]/deep+w[1]/wide)
		if equal < 0 {
			equal += math.Pi
		}
		if from < equal && equal < to {
			try(equal)
		}
	}
	return angle, best <= 1
}

// events are the angles from 0 to π at which a side of the hull is parallel to a
// side of the rectangle.
func events(hull []solid.Point) []float64 {
	at := []float64{0, math.Pi / 2}
	for i, p := range hull {
		q := hull[(i+1)%len(hull)]
		a := math.Mod(math.Atan2(p[1]-q[1], q[0]-p[0])+2*math.Pi, math.Pi/2)
		at = append(at, a, a+math.Pi/2)
	}
	slices.Sort(at)
	return slices.Compact(at)
}

// extent is the width and depth of a turned hull, and the vectors, before
// turning, between the corners that bound it.
func extent(hull []solid.Point, angle float64) (wide, deep float64, across, up solid.Point) {
	sin, cos := math.Sincos(angle)
	span := func(ux, uy float64) (float64, solid.Point) {
		least, most := hull[0], hull[0]
		along := func(p solid.Point) float64 { return float64(p[0]*ux) + float64(p[1]*uy) }
		for _, p := range hull {
			if along(p) < along(least) {
				least = p
			}
			if along(p) > along(most) {
				most = p
			}
		}
		return along(most) - along(least), solid.Point{most[0] - least[0], most[1] - least[1]}
	}
	wide, across = span(cos, -sin)
	deep, up = span(sin, cos)
	return wide, deep, across, up
}
