package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	// tracedMost is how far, pixels, from where the path of an edge was found the outline may
	// pass that is drawn in its place.
	tracedMost = 12.0
	// tracedDenied is the same where the other side is believed.
	tracedDenied = 40.0
	// tracedNear is over how many edge points to either side they are taken together.
	tracedNear = 12
)

// traced is the edge as places of the photograph. Steps of light are noisy one by one: they
// are drawn as far off the body's outline as their neighbours lie by the median. Where no
// step was found, a stray one outside, or one of a side that is not believed, the outline itself
// is drawn; within it may lie a groove.
func (v view) traced(o *solution) [][2]float64 {
	parts, most := o.form.parts(), o.form.most()
	apart := v.unturned(o)
	edge := slices.Clone(v.edge)
	off, near := make([]float64, len(edge)), make([]bool, len(edge))
	for i := range edge {
		px, ok := v.outside(o.axis, parts, most, i)
		denied := o.oneSided != nil && o.oneSided[i]
		off[i], near[i] = px, ok && !apart[i] && (math.Abs(px) <= tracedMost || denied && math.Abs(px) <= tracedDenied)
		edge[i].good = edge[i].good && !denied
	}
	for i, e := range edge {
		if !near[i] {
			continue
		}
		stray := strayTold * math.Hypot(e.sigma, edgeFit) * max(o.scale, 1)
		move := off[i]
		if e.good && off[i] <= stray {
			move -= around(edge, off, near, i)
			if math.Abs(move) > stray {
				continue
			}
		}
		edge[i].at = r2.Add(e.at, r2.Scale(-move, e.out))
	}
	return contourOf(edge)
}

// around is the median of how far off the outline the steps about a point lie.
func around(edge []edgePoint, off []float64, near []bool, i int) float64 {
	var all []float64
	n := len(edge)
	for d := -tracedNear; d <= tracedNear; d++ {
		if k := (i + d + n) % n; edge[k].good && near[k] {
			all = append(all, off[k])
		}
	}
	return median(all)
}
