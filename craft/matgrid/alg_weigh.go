package matgrid

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/camera"
)

// Crossings farther than this from where the camera through all puts them, in
// standard deviations or pixels, were drawn aside by a scratch or an edge.
const (
	asideSigma = 3.5
	asidePx    = 0.15
)

// weighMost is how many crossings a camera is fitted through to weigh them all.
const weighMost = 400

// weigh fits a camera through the crossings, on a mat of ten to a step, and drops,
// until there is none, what lies aside of the camera through the rest.
func weigh(all []Crossing, w, h int) ([]Crossing, view, bool) {
	var fit camera.Fitted
	for range 4 {
		var marks []camera.Mark
		every := (len(all) + weighMost - 1) / weighMost
		for k := 0; k < len(all); k += every {
			c := all[k]
			marks = append(marks, camera.Mark{Px: c.Px, Mm: r2.Vec{X: 10 * float64(c.I), Y: 10 * float64(c.J)}})
		}
		var err error
		if fit, err = camera.Fit(marks, camera.Known{Width: w, Height: h}); err != nil {
			return nil, view{}, false
		}
		// A few far aside widen the fit's own deviation until it holds them; a length's
		// median is 1.18 of a coordinate's deviation (Rayleigh's distribution).
		off := slices.Clone(fit.Off)
		slices.Sort(off)
		most := max(asideSigma*min(fit.Sigma, off[len(off)/2]/1.177), asidePx)
		v := viewOf(&fit, w, h)
		kept := all[:0:0]
		for _, c := range all {
			if px, ok := v.px(r2.Vec{X: float64(c.I), Y: float64(c.J)}); ok && r2.Norm(r2.Sub(px, c.Px)) < most {
				kept = append(kept, c)
			}
		}
		if len(kept) < leastCrossings {
			return nil, view{}, false
		}
		if len(kept) == len(all) {
			break
		}
		all = kept
	}
	return all, viewOf(&fit, w, h), true
}
