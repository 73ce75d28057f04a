package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/limb"
)

// tracedMost is how far, pixels, from where the path of an edge was found the outline may
// pass that is drawn in its place.
const tracedMost = 12.0

// traced is the edge as places of the photograph, with the body's outline where no step of
// light was found, or a stray one outside it: within it may lie a groove.
func (v view) traced(o *solution) [][2]float64 {
	parts, most := o.form.parts(), o.form.most()
	edge := make([]edgePoint, len(v.edge))
	copy(edge, v.edge)
	for i, e := range edge {
		p := limb.PassOf(o.axis.p, o.axis.u, v.cam.C, v.sight[i].d)
		m := touches(parts, &p, most)
		off := -m.gap * v.cam.F / p.Depth
		if o.skip[i] || !m.ok || math.Abs(off) > tracedMost {
			continue
		}
		if doubt := math.Hypot(e.sigma, edgeFit) * max(o.scale, 1); !e.good || off < -strayTold*doubt {
			edge[i].at = r2.Add(e.at, r2.Scale(off, e.out))
		}
	}
	return contourOf(edge)
}
