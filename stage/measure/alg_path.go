package measure

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/cores"
)

// The path of an edge is found among places along the outline's normals: where the
// colour changes most, and no further from one normal to the next than it must. Of all
// paths the cheapest is found by dynamic programming.
const (
	pathStep   = 0.5  // pixels along the normals
	pathBeside = 1.0  // pixels to either side at which colours are compared
	pathClear  = 2.5  // pixels outwards, from where on the edge's blur shows no more
	pathBend   = 0.3  // of a plain pixel's cost: moving one place from normal to normal
	pathStay   = 0.02 // for each pixel that a place lies off the outline
	pathLine   = 0.7  // least of a place whose inner side would show a printed line
	pathSteep  = 0.3  // of a place where nothing changes, over the steepest of its normal
	pathAlien  = 0.6  // of a place outside which there is no mat
	pathMost   = 3    // places moved at most
	pathStroke = 10.0 // of a place that a stroke puts on the other side
)

// path moves the points of an outline onto the edge, reach pixels to either side at
// most, near to where printed lines end. The outline is closed; so is the path.
func (m ground) path(ctx context.Context, outline []r2.Vec, by guide, reach float64) ([]r2.Vec, error) {
	n, k := len(outline), 2*int(reach/pathStep)+1
	cost := make([]float64, n*k)
	at, out := make([]r2.Vec, n), make([]r2.Vec, n)
	err := cores.Rows(ctx, n, func(i int) {
		var dir r2.Vec
		at[i], dir = tangent(outline, i, 6)
		out[i] = outwards(dir)
		m.placeCosts(at[i], out[i], by.at(i), reach, cost[i*k:(i+1)*k])
	})
	if err != nil {
		return nil, err
	}
	// Closed: a first round finds a place that the best path goes through whatever it
	// begins with, half way round; a second one begins and ends there.
	mid := n / 2
	first := cheapest(cost, n, k, 0, -1)
	start := first[mid]
	best := cheapest(cost, n, k, mid, start)
	moved := make([]r2.Vec, n)
	for i := range moved {
		j := (i + n - mid) % n
		moved[i] = r2.Add(at[i], r2.Scale(pathStep*float64(best[j])-reach, out[i]))
	}
	return moved, nil
}

// placeCosts is what an edge costs at each place along a normal: little where the
// colour changes within a pixel, and least of all where it changes most.
func (m ground) placeCosts(at, out r2.Vec, by guided, reach float64, cost []float64) {
	const beside, clear = int(pathBeside / pathStep), int(pathClear / pathStep)
	line, root := make([]colour, len(cost)+beside+clear), make([]colour, len(cost)+beside+clear)
	lined := make([]bool, len(line))
	for j := range line {
		t := pathStep*float64(j-beside) - reach
		for _, side := range [3]float64{-1, 0, 1} {
			c := m.photo.at(at.X+t*out.X-side*out.Y, at.Y+t*out.Y+side*out.X)
			for ch := range c {
				line[j][ch] += c[ch] / 3
			}
		}
		lined[j] = m.onLine(r2.Add(at, r2.Scale(t, out)))
		for ch, v := range line[j] {
			line[j][ch], root[j][ch] = math.Log(v+lightFloor), math.Sqrt(v)
		}
	}
	steepest := 0.0
	steep := make([]float64, len(cost))
	for j := range cost {
		d := root[j].minus(root[j+2*beside])
		steep[j] = math.Sqrt(d.dot(d))
		steepest = max(steepest, steep[j])
	}
	for j := range cost {
		d := line[j].minus(line[j+2*beside])
		t := pathStep*float64(j) - reach
		cost[j] = math.Exp(-d.dot(d) / (6 * borderStep * borderStep))
		if lined[j] { // the far side of a printed line looks like an edge too
			cost[j] = max(cost[j], pathLine)
		}
		cost[j] += pathSteep*(1-steep[j]/max(steepest, leastContrast)) + by.cost(t)
		if k := j + beside + clear; !lined[k] {
			cost[j] += pathAlien * alien(line[k].minus(m.bareLog(r2.Add(at, r2.Scale(t+pathClear, out)))))
		}
		if m.strokeAcross(r2.Add(at, r2.Scale(t, out)), t) {
			cost[j] += pathStroke
		}
	}
}

// alien is how surely a colour is not the mat's in any light or shadow, 0 to 1, by the
// logarithm of its light over the bare mat's: an object can have a dark rim, and what
// lies outside that is the edge.
func alien(q colour) float64 {
	tint := math.Hypot(q[0]-q[1], q[2]-q[1])
	return min(1, max(0, tint/otherColour, (q[0]+q[1]+q[2])/3/muchLighter))
}

// alienAt is how surely a place of the picture is not the mat.
func (m ground) alienAt(px r2.Vec) float64 {
	c := m.photo.at(px.X, px.Y)
	for ch, v := range c {
		c[ch] = math.Log(v + lightFloor)
	}
	return alien(c.minus(m.bareLog(px)))
}

// bareLog is the logarithm of the bare mat's light at a place.
func (m ground) bareLog(px r2.Vec) colour {
	mat := m.bareAt(px)
	for ch, v := range mat {
		mat[ch] = math.Log(v + lightFloor)
	}
	return mat
}

// strokeAcross reports whether a place so far out of the outline lies under a stroke
// that says the contrary: outside it under one of the mat, inside under one of the
// object.
func (m ground) strokeAcross(px r2.Vec, t float64) bool {
	if len(m.brushes) == 0 {
		return false
	}
	at, ok := m.cam.OnPlane(px, 0)
	if !ok {
		return false
	}
	across := false
	for _, b := range m.brushes {
		if len(b.Path) > 0 && b.off(r2.Vec{X: at.X, Y: at.Y}) <= b.WidthMM/2 {
			across = b.In == (t < 0) && t != 0
		}
	}
	return across
}

// cheapest is the path of least cost from normal start on, all the way round; with a
// place given it begins and ends there.
func cheapest(cost []float64, n, k, start, place int) []int {
	before, now := make([]float64, k), make([]float64, k)
	came := make([]int8, n*k)
	for j := range before {
		if place >= 0 && j != place {
			before[j] = math.Inf(1)
		}
	}
	for i := range n {
		row := cost[(start+i)%n*k:]
		for j := range now {
			now[j] = math.Inf(1)
			for d := -pathMost; d <= pathMost; d++ {
				if j+d < 0 || j+d >= k {
					continue
				}
				if c := before[j+d] + pathBend*math.Abs(float64(d)); c < now[j] {
					now[j], came[i*k+j] = c, int8(d)
				}
			}
			now[j] += row[j]
		}
		before, now = now, before
	}
	best := 0
	for j := range before {
		if before[j] < before[best] {
			best = j
		}
	}
	if place >= 0 && !math.IsInf(before[place], 1) {
		best = place
	}
	out := make([]int, n)
	for i := n - 1; i >= 0; i-- {
		out[i] = best
		best += int(came[i*k+best])
	}
	return out
}
