package measure

import "math"

// The outline of a body of revolution is, in the fan about its axis, one width a row,
// the same to both sides: it is the union of its circles' images, each of which is.
// Of all such outlines the one of least cost is found exactly by dynamic programming
// over the rows: cost is what the cut's pixels say within it, and its border.

// turned is an outline in a fan: width[i] columns to either side at row from+i.
type turned struct {
	fan   fan
	from  int
	width []int
	cost  float64
}

// outline is the cheapest one; ok is false where nothing costs less than no outline.
func (e costs) outline() (from int, width []int, cost float64, ok bool) {
	n := e.cols + 1
	before, now := make([]float64, n), make([]float64, n)
	came := make([]int16, e.rows*n) // width of the row before; -1: none
	var edge [2][]float64           // cost of a border along a row up to a column
	for k := range edge {
		edge[k] = make([]float64, n)
	}
	for k := range before {
		before[k] = math.Inf(1)
	}
	best, bestRow, bestWidth := 0.0, -1, 0
	src := make([]int16, n)
	for y := range e.rows {
		up := edge[y%2]
		e.borderAlong(y, up)
		// From the row before by the border between the two widths: both sweeps of
		// a distance transform.
		for k := 1; k < n; k++ {
			src[k] = int16(k)
		}
		for k := 2; k < n; k++ {
			if c := before[k-1] + up[k] - up[k-1]; c < before[k] {
				before[k], src[k] = c, src[k-1]
			}
		}
		for k := n - 2; k > 0; k-- {
			if c := before[k+1] + up[k+1] - up[k]; c < before[k] {
				before[k], src[k] = c, src[k+1]
			}
		}
		within := 0.0
		for k := 1; k < n; k++ {
			i := y*e.cols + k - 1
			within += e.say[i]
			c, from := before[k], src[k]
			if up[k] < c {
				c, from = up[k], -1
			}
			now[k] = c + within + e.out[i]
			came[y*n+k] = from
		}
		now[0] = math.Inf(1)
		// Here the outline may end: with the border towards the next row.
		// Beyond the last one nothing is seen, nor any border.
		down := edge[(y+1)%2]
		if y+1 < e.rows {
			e.borderAlong(y+1, down)
		} else {
			clear(down)
		}
		for k := 1; k < n; k++ {
			if c := now[k] + down[k]; c < best {
				best, bestRow, bestWidth = c, y, k
			}
		}
		before, now = now, before
	}
	if bestRow < 0 {
		return 0, nil, 0, false
	}
	var back []int
	y, k := bestRow, bestWidth
	for {
		back = append(back, k)
		prev := came[y*n+k]
		if prev < 0 {
			break
		}
		y, k = y-1, int(prev)
	}
	width = make([]int, len(back))
	for i, w := range back {
		width[len(back)-1-i] = w
	}
	return y, width, best, true
}

// borderAlong adds up the border towards the row before, up to each column.
func (e costs) borderAlong(y int, up []float64) {
	up[0] = 0
	for k := 1; k < len(up); k++ {
		up[k] = up[k-1] + e.row[y*e.cols+k-1]
	}
}
