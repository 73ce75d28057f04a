package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// tracedMost is how far, pixels, from where the path of an edge was found the outline may
// pass that is drawn in its place.
const tracedMost = 12.0

// traced is the edge as places of the photograph, with the body's outline where no step of
// light was found, or a stray one outside it: within it may lie a groove.
func (v view) traced(o *solution) [][2]float64 {
	parts, most := o.form.parts(), o.form.most()
	edge := slices.Clone(v.edge)
	for i, e := range edge {
		off, ok := v.outside(o.axis, parts, most, i)
		if o.skip[i] || !ok || math.Abs(off) > tracedMost {
			continue
		}
		if doubt := math.Hypot(e.sigma, edgeFit) * max(o.scale, 1); !e.good || off > strayTold*doubt {
			edge[i].at = r2.Add(e.at, r2.Scale(-off, e.out))
		}
	}
	return contourOf(edge)
}
