package solid

import "math"

// grid finds points near a triangle: about one point a cell, cells stored one
// after another.
type grid struct {
	low        Point
	scale      Point // cells per unit
	cols, rows int
	start      []int32
	items      []int32
}

func newGrid(points []Point) grid {
	box := loopBounds(points)
	side := max(1, int(math.Sqrt(float64(len(points)))))
	g := grid{low: box[0], cols: side, rows: side}
	for k := range 2 {
		if size := box[1][k] - box[0][k]; size > 0 {
			g.scale[k] = float64(side) / size
		}
		if math.IsInf(g.scale[k], 0) || g.scale[k] != g.scale[k] {
			g.scale[k] = 0
		}
	}
	g.start = make([]int32, side*side+1)
	cell := make([]int32, len(points))
	for i, p := range points {
		x, y := g.cell(p)
		cell[i] = int32(y*g.cols + x)
		g.start[cell[i]+1]++
	}
	for i := 1; i < len(g.start); i++ {
		g.start[i] += g.start[i-1]
	}
	fill := append([]int32(nil), g.start...)
	g.items = make([]int32, len(points))
	for i, c := range cell {
		g.items[fill[c]] = int32(i)
		fill[c]++
	}
	return g
}

// cell is monotone in each coordinate, so a point inside a box lies in a cell
// between those of the box's corners, whatever the rounding.
func (g *grid) cell(p Point) (x, y int) {
	clamp := func(f float64, n int) int {
		if !(f > 0) {
			return 0
		}
		return int(math.Min(f, float64(n-1)))
	}
	return clamp((p[0]-g.low[0])*g.scale[0], g.cols), clamp((p[1]-g.low[1])*g.scale[1], g.rows)
}

// visit calls f for the points in the cells around the triangle, until f says
// false.
func (g *grid) visit(a, b, c Point, f func(i int32) bool) {
	low := Point{min(a[0], b[0], c[0]), min(a[1], b[1], c[1])}
	high := Point{max(a[0], b[0], c[0]), max(a[1], b[1], c[1])}
	x0, y0 := g.cell(low)
	x1, y1 := g.cell(high)
	for y := y0; y <= y1; y++ {
		for _, i := range g.items[g.start[y*g.cols+x0]:g.start[y*g.cols+x1+1]] {
			if !f(i) {
				return
			}
		}
	}
}
