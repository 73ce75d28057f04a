package solid

import (
	"cmp"
	"slices"
)

// checkLoops returns nil where the loops bound a part of the plane: each simple,
// none touching another, outer ones anticlockwise and holes clockwise.
func checkLoops(loops [][]Point) error {
	if len(loops) == 0 {
		return loopError(TooFewPoints, 0, 0, Point{})
	}
	for l, loop := range loops {
		if len(loop) < 3 {
			return loopError(TooFewPoints, l, 0, Point{})
		}
		for i, p := range loop {
			if !p.finite() {
				return loopError(PointNotFinite, l, i, p)
			}
		}
		for i, p := range loop {
			if p == loop[(i+len(loop)-1)%len(loop)] {
				return loopError(RepeatedPoint, l, i, p)
			}
		}
		for i, p := range loop {
			before, after := loop[(i+len(loop)-1)%len(loop)], loop[(i+1)%len(loop)]
			if Orient(before, p, after) == Straight && dot2(p.sub(before), after.sub(p)) < 0 {
				return loopError(FoldedBack, l, i, p)
			}
		}
	}
	if err := checkCrossings(loops); err != nil {
		return err
	}
	for l, loop := range loops {
		depth := 0
		for k, other := range loops {
			// Loops that don't touch are inside as a whole or not at all.
			if k != l && locate(loop[0], other) == inside {
				depth++
			}
		}
		if at, ccw := extreme(loop); ccw != (depth%2 == 0) {
			return loopError(WrongWay, l, at, loop[at])
		}
	}
	return nil
}

// extreme returns the lowest vertex in lexicographic order, which is strictly
// convex in a simple loop, and whether the loop runs anticlockwise there.
func extreme(loop []Point) (index int, ccw bool) {
	for i, p := range loop {
		if c := slices.Compare(p[:], loop[index][:]); c < 0 {
			index = i
		}
	}
	n := len(loop)
	return index, Orient(loop[(index+n-1)%n], loop[index], loop[(index+1)%n]) == CounterClockwise
}

type loopEdge struct {
	loop, index int
	a, b        Point
	low, high   float64 // extent along y
}

// checkCrossings finds two edges that share more than the vertex between them.
// Edges are taken by their lower end; each meets only those that still reach it.
func checkCrossings(loops [][]Point) error {
	var edges []loopEdge
	for l, loop := range loops {
		for i, p := range loop {
			q := loop[(i+1)%len(loop)]
			edges = append(edges, loopEdge{l, i, p, q, min(p[1], q[1]), max(p[1], q[1])})
		}
	}
	slices.SortStableFunc(edges, func(e, f loopEdge) int { return cmp.Compare(e.low, f.low) })
	var active []loopEdge
	for _, e := range edges {
		keep := active[:0]
		for _, f := range active {
			if f.high < e.low {
				continue
			}
			keep = append(keep, f)
			n := len(loops[e.loop])
			if e.loop == f.loop && ((e.index+1)%n == f.index || (f.index+1)%n == e.index) {
				continue // neighbours; folding back is looked for elsewhere
			}
			if segmentsMeet(e.a, e.b, f.a, f.b) {
				if f.loop < e.loop || f.loop == e.loop && f.index < e.index {
					e, f = f, e
				}
				err := loopError(Crossing, e.loop, e.index, meetingPoint(e.a, e.b, f.a, f.b))
				err.OtherLoop, err.Other = f.loop, f.index
				return err
			}
		}
		active = append(keep, e)
	}
	return nil
}

// segmentsMeet reports whether two closed segments have a point in common.
func segmentsMeet(a, b, c, d Point) bool {
	for k := range 2 {
		if max(a[k], b[k]) < min(c[k], d[k]) || max(c[k], d[k]) < min(a[k], b[k]) {
			return false
		}
	}
	return Orient(a, b, c)*Orient(a, b, d) <= 0 && Orient(c, d, a)*Orient(c, d, b) <= 0
}

// meetingPoint returns about where two segments meet, for messages only.
func meetingPoint(a, b, c, d Point) Point {
	ab, cd := b.sub(a), d.sub(c)
	if den := cross2(ab, cd); den != 0 {
		t := cross2(c.sub(a), cd) / den
		return Point{a[0] + float64(t*ab[0]), a[1] + float64(t*ab[1])}
	}
	return c
}

type side uint8

const (
	outside side = iota
	onEdge
	inside
)

// locate says where p lies of a loop by counting crossings of the ray along +x,
// exactly (a vertex belongs to the edge above it).
func locate(p Point, loop []Point) side {
	odd := false
	n := len(loop)
	for i, a := range loop {
		b := loop[(i+1)%n]
		if (a[1] > p[1]) == (b[1] > p[1]) {
			if a[1] == p[1] && b[1] == p[1] && min(a[0], b[0]) <= p[0] && p[0] <= max(a[0], b[0]) {
				return onEdge
			}
			if p == a {
				return onEdge
			}
			continue
		}
		switch turn := Orient(a, b, p); {
		case turn == Straight:
			return onEdge
		case (turn == CounterClockwise) == (b[1] > a[1]):
			odd = !odd
		}
	}
	if odd {
		return inside
	}
	return outside
}

// loopInside reports whether one loop lies inside another that it may touch: by
// its first vertex that isn't on the other's edge.
func loopInside(in, out []Point) bool {
	for _, p := range in {
		switch locate(p, out) {
		case inside:
			return true
		case outside:
			return false
		}
	}
	return true
}

// nested groups loops by their direction: each anticlockwise loop with the
// clockwise ones for which it is the smallest around. A clockwise loop that lies
// in no other is a group of its own: input that is wrong, but nothing is lost.
// Groups hold loop numbers, the outer one first, in the order of the outer ones.
func nested(loops [][]Point) [][]int {
	areas := make([]float64, len(loops))
	bounds := make([][2]Point, len(loops))
	var outers []int
	for i, l := range loops {
		areas[i] = loopArea(l)
		bounds[i] = loopBounds(l)
		if areas[i] >= 0 {
			outers = append(outers, i)
		}
	}
	bySize := slices.Clone(outers)
	slices.SortStableFunc(bySize, func(i, j int) int { return cmp.Compare(areas[i], areas[j]) })
	holes := make([][]int, len(loops))
	var groups [][]int
	var stray [][]int
	for i, l := range loops {
		if areas[i] >= 0 {
			continue
		}
		at := slices.IndexFunc(bySize, func(o int) bool {
			return areas[o] >= -areas[i]*(1-1e-9) && boundsInside(bounds[i], bounds[o]) && loopInside(l, loops[o])
		})
		if at < 0 {
			stray = append(stray, []int{i})
			continue
		}
		holes[bySize[at]] = append(holes[bySize[at]], i)
	}
	for _, o := range outers {
		groups = append(groups, append([]int{o}, holes[o]...))
	}
	return append(groups, stray...)
}

func loopBounds(l []Point) [2]Point {
	b := [2]Point{l[0], l[0]}
	for _, p := range l {
		for k := range 2 {
			b[0][k] = min(b[0][k], p[k])
			b[1][k] = max(b[1][k], p[k])
		}
	}
	return b
}

func boundsInside(in, out [2]Point) bool {
	return in[0][0] >= out[0][0] && in[0][1] >= out[0][1] && in[1][0] <= out[1][0] && in[1][1] <= out[1][1]
}
