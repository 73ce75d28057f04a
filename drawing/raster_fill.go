package drawing

import (
	"math"
	"slices"
)

// filler works out how much of each pixel closed polygons cover, by scan lines:
// each row of pixels is cut into subRows level lines, on which the stretches
// inside are exact along x. It knows both rules of filling, which the usual
// accumulating rasterisers do not.
type filler struct {
	edges []fillEdge
	cover []float64
	cross []crossing
}

// subRows is the number of level lines a row of pixels is judged by: coverage of a
// level edge is told to a sixteenth, below what an eye sees.
const subRows = 16

type fillEdge struct {
	x0, y0, slope float64 // from its upper end
	y1            float64
	turn          int // +1 downwards
}

type crossing struct {
	x    float64
	turn int
}

func (f *filler) reset() { f.edges = f.edges[:0] }

// polygon adds the closed polygon through the points.
func (f *filler) polygon(ps []Point) {
	if len(ps) < 2 {
		return
	}
	a := ps[len(ps)-1]
	for _, b := range ps {
		f.edge(a, b)
		a = b
	}
}

func (f *filler) edge(a, b Point) {
	if a.Y == b.Y {
		return
	}
	turn := 1
	if a.Y > b.Y {
		a, b, turn = b, a, -1
	}
	f.edges = append(f.edges, fillEdge{a.X, a.Y, (b.X - a.X) / (b.Y - a.Y), b.Y, turn})
}

// rows calls paint for each row of pixels touched, with the coverage from a column
// on.
func (f *filler) rows(wide, high int, evenOdd bool, paint func(y, from int, cover []float64)) {
	if len(f.edges) == 0 {
		return
	}
	slices.SortFunc(f.edges, func(a, b fillEdge) int {
		switch {
		case a.y0 < b.y0:
			return -1
		case a.y0 > b.y0:
			return 1
		}
		return 0
	})
	if len(f.cover) < wide+1 {
		f.cover = make([]float64, wide+1)
	}
	var active []fillEdge
	next := 0
	y := max(0, int(math.Floor(f.edges[0].y0)))
	for ; y < high; y++ {
		bottom := float64(y + 1)
		for next < len(f.edges) && f.edges[next].y0 < bottom {
			active = append(active, f.edges[next])
			next++
		}
		active = slices.DeleteFunc(active, func(e fillEdge) bool { return e.y1 <= float64(y) })
		if len(active) == 0 {
			if next == len(f.edges) {
				return
			}
			y = max(y, int(math.Floor(f.edges[next].y0))-1)
			continue
		}
		from, to := f.row(active, y, wide, evenOdd)
		if from >= to {
			continue
		}
		paint(y, from, f.cover[from:to])
		clear(f.cover[from:to])
	}
}

// row adds up the coverage of one row of pixels, and returns the columns touched.
func (f *filler) row(active []fillEdge, y, wide int, evenOdd bool) (from, to int) {
	from, to = wide, 0
	for k := range subRows {
		level := float64(y) + (float64(k)+0.5)/subRows
		f.cross = f.cross[:0]
		for _, e := range active {
			if e.y0 <= level && level < e.y1 {
				f.cross = append(f.cross, crossing{e.x0 + float64(e.slope*(level-e.y0)), e.turn})
			}
		}
		slices.SortFunc(f.cross, func(a, b crossing) int {
			switch {
			case a.x < b.x:
				return -1
			case a.x > b.x:
				return 1
			}
			return 0
		})
		wind := 0
		for i, c := range f.cross {
			if inside := wind != 0; evenOdd && wind%2 != 0 || !evenOdd && inside {
				a, b := f.span(f.cross[i-1].x, c.x, wide)
				from, to = min(from, a), max(to, b)
			}
			wind += c.turn
		}
	}
	return from, to
}

// span adds a stretch of a level line.
func (f *filler) span(a, b float64, wide int) (from, to int) {
	a, b = max(0, a), min(float64(wide), b)
	if a >= b {
		return wide, 0
	}
	const share = 1.0 / subRows
	i, j := int(a), int(b)
	if i == j {
		f.cover[i] += (b - a) * share
		return i, i + 1
	}
	f.cover[i] += (float64(i+1) - a) * share
	for k := i + 1; k < j; k++ {
		f.cover[k] += share
	}
	if j < wide {
		f.cover[j] += (b - float64(j)) * share
		return i, j + 1
	}
	return i, j
}
