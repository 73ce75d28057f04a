package matgrid

import (
	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/camera"
)

// Crossings farther than this from where the camera through all puts them, in
// standard deviations or pixels, were drawn aside by a scratch or an edge.
const (
	asideSigma = 4.5
	asidePx    = 0.15
)

// weigh fits a camera through the crossings, on a mat of ten to a step, and drops,
// until there is none, what lies aside of the camera through the rest.
func weigh(all []Crossing, w, h int) ([]Crossing, view, bool) {
	var fit camera.Fitted
	for range 4 {
		marks := make([]camera.Mark, len(all))
		for k, c := range all {
			marks[k] = camera.Mark{Px: c.Px, Mm: r2.Vec{X: 10 * float64(c.I), Y: 10 * float64(c.J)}}
		}
		var err error
		if fit, err = camera.Fit(marks, camera.Known{Width: w, Height: h}); err != nil {
			return nil, view{}, false
		}
		most := max(asideSigma*fit.Sigma, asidePx)
		kept := all[:0:0]
		for k, c := range all {
			if fit.Off[k] < most {
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
