package formats

import (
	"math"

	"scalewright/solid"
)

// polygonCutter divides polygons in space into triangles. It keeps its memory
// from one to the next.
type polygonCutter struct {
	flat []solid.Point
}

// append adds the triangles of the polygon whose corners are given, two fewer
// than it has corners. They have its edges once each, whatever its shape, so that
// a closed surface of polygons becomes a closed surface of triangles.
func (c *polygonCutter) append(to [][3]int32, places []solid.Vec, corners []int32) [][3]int32 {
	if len(corners) == 3 {
		return append(to, [3]int32(corners))
	}
	c.flatten(places, corners)
	if len(corners) == 4 {
		a, b, d, e := corners[0], corners[1], corners[2], corners[3]
		if c.splitsAtFirst() {
			return append(to, [3]int32{a, b, d}, [3]int32{a, d, e})
		}
		return append(to, [3]int32{b, d, e}, [3]int32{b, e, a})
	}
	for _, t := range (solid.Region{Outer: c.flat}).Triangulate() {
		to = append(to, [3]int32{corners[t[0]], corners[t[1]], corners[t[2]]})
	}
	return to
}

// flatten leaves out the axis along which the polygon shows most of its area, and
// turns the other two so that it runs anticlockwise. No coordinate is computed, so
// what lies on a line still does. The area is that of M. E. Newell's formula
// (Sutherland, Sproull & Schumacker, "A characterization of ten hidden-surface
// algorithms", Computing Surveys 6 (1974)), from the first corner.
func (c *polygonCutter) flatten(places []solid.Vec, corners []int32) {
	var n solid.Vec
	o := places[corners[0]]
	for i := 1; i+1 < len(corners); i++ {
		n = n.Add(places[corners[i]].Sub(o).Cross(places[corners[i+1]].Sub(o)))
	}
	drop := 0
	for k := range 3 {
		if math.Abs(n[k]) > math.Abs(n[drop]) {
			drop = k
		}
	}
	x, y := (drop+1)%3, (drop+2)%3
	if n[drop] < 0 {
		x, y = y, x
	}
	c.flat = c.flat[:0]
	for _, v := range corners {
		c.flat = append(c.flat, solid.Point{places[v][x], places[v][y]})
	}
}

// splitsAtFirst says by which diagonal a quadrilateral is divided: the one that
// lies inside, of two the shorter.
func (c *polygonCutter) splitsAtFirst() bool {
	p := c.flat
	left := func(i, j, k int) bool { return solid.Orient(p[i], p[j], p[k]) == solid.CounterClockwise }
	first := left(0, 1, 2) && left(0, 2, 3)
	second := left(1, 2, 3) && left(1, 3, 0)
	if first != second {
		return first
	}
	return math.Hypot(p[2][0]-p[0][0], p[2][1]-p[0][1]) <= math.Hypot(p[3][0]-p[1][0], p[3][1]-p[1][1])
}
