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

// Longest is the direction in which a hull is longest, a unit vector that points
// to +x (to +y where it is square to x), and how long it is there.
func Longest(hull []solid.Point) (direction solid.Point, length float64) {
	direction = solid.Point{1, 0}
	for i, a := range hull {
		for _, b := range hull[:i] {
			d := solid.Point{a[0] - b[0], a[1] - b[1]}
			if l := math.Hypot(d[0], d[1]); l > length {
				direction, length = solid.Point{d[0] / l, d[1] / l}, l
			}
		}
	}
	if direction[0] < 0 || direction[0] == 0 && direction[1] < 0 {
		direction = solid.Point{-direction[0] + 0, -direction[1] + 0}
	}
	return direction, length
}
