package measure

import (
	"math"

	"scalewright/craft/limb"
)

// residuals are those of all rays, in their expected standard deviations, with where
// each touches; NaN where it touches nothing.
func (f *fitting) residuals() (x []float64, at []graze) {
	parts, most := f.form.parts(), f.form.most()
	x, at = make([]float64, len(f.rays)), make([]graze, len(f.rays))
	inStretches(len(f.rays), func(_, from, to int) {
		for k := from; k < to; k++ {
			p := limb.PassOf(f.axis.p, f.axis.u, f.cam.C, f.rays[k].d)
			m := touches(parts, &p, most)
			x[k], at[k] = math.NaN(), m
			if m.ok {
				x[k] = m.gap * f.rays[k].sharp / p.Depth
			}
		}
	})
	return x, at
}

// leastScale is the least that residuals may be of what is expected of them: the file's
// steps and its compression are in the expectation already.
const leastScale = 0.5

// rescale sets the scale of residuals to what they are.
func (f *fitting) rescale() {
	x, _ := f.residuals()
	var all []float64
	for _, e := range x {
		if !math.IsNaN(e) {
			all = append(all, math.Abs(e))
		}
	}
	if len(all) > 0 {
		f.scale = max(leastScale, 1.4826*median(all))
	}
}

// tellReach is how near a touching place, mm, a station counts as told.
const tellReach = 0.75

// strayTold is the residual, in standard deviations, past which a ray tells nothing.
const strayTold = 5.0

// told lists the stations that rays touch, from the first joint on in steps of
// stationStep.
func (f *fitting) told() []bool {
	n := len(f.form.joints)
	lo, hi := f.form.joints[0].s, f.form.joints[n-1].s
	out := make([]bool, int((hi-lo)/stationStep)+2)
	x, at := f.residuals()
	for k, e := range x {
		if math.IsNaN(e) || math.Abs(e) > strayTold*f.scale {
			continue
		}
		s := at[k].at.s - lo
		for i := max(0, int(math.Ceil((s-tellReach)/stationStep))); i <= int((s+tellReach)/stationStep) && i < len(out); i++ {
			out[i] = true
		}
	}
	return out
}
