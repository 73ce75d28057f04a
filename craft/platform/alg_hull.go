package platform

import (
	"cmp"
	"math"
	"slices"

	"scalewright/solid"
)

// Hull is the convex hull of points, anticlockwise, no three in a line (A. M.
// Andrew, Another efficient algorithm for convex hulls in two dimensions, 1979).
func Hull(points []solid.Point) []solid.Point {
	p := slices.Clone(points)
	slices.SortFunc(p, func(a, b solid.Point) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	p = slices.Compact(p)
	if len(p) < 3 {
		return p
	}
	half := func(p []solid.Point) []solid.Point {
		var out []solid.Point
		for _, q := range p {
			for len(out) > 1 && solid.Orient(out[len(out)-2], out[len(out)-1], q) != solid.CounterClockwise {
				out = out[:len(out)-1]
			}
			out = append(out, q)
		}
		return out[:len(out)-1]
	}
	lower := half(p)
	slices.Reverse(p)
	return append(lower, half(p)...)
}

// LongSide is the direction of the longer side of the least rectangle round a
// hull, a unit vector that points to +x (to +y where it is square to x). A side of
// that rectangle lies along one of the hull's (H. Freeman and R. Shapira,
// Determining the minimum-area encasing rectangle for an arbitrary closed curve,
// 1975). Of rectangles alike the one of the first side counts.
func LongSide(hull []solid.Point) solid.Point {
	best, least := solid.Point{1, 0}, math.Inf(1)
	for i, p := range hull {
		q := hull[(i+1)%len(hull)]
		d := solid.Point{q[0] - p[0], q[1] - p[1]}
		length := math.Hypot(d[0], d[1])
		if length == 0 {
			continue
		}
		d = solid.Point{d[0] / length, d[1] / length}
		long, wide := spread(hull, d), spread(hull, solid.Point{-d[1], d[0]})
		if long*wide < least*(1-sameArea) {
			least = long * wide
			best = d
			if wide > long {
				best = solid.Point{-d[1], d[0]}
			}
		}
	}
	if best[0] < 0 || best[0] == 0 && best[1] < 0 {
		best = solid.Point{-best[0], -best[1]}
	}
	return solid.Point{best[0] + 0, best[1] + 0} // no sign of nought
}

// Areas that differ by less than this share are alike: what rounding leaves.
const sameArea = 1e-9

// spread is how long a hull is in a direction.
func spread(hull []solid.Point, d solid.Point) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range hull {
		x := float64(p[0]*d[0]) + float64(p[1]*d[1])
		low, high = min(low, x), max(high, x)
	}
	return high - low
}
