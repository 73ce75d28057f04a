package camera

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

func homographyOf(marks []Mark) (homography, bool) {
	mm, px := make([]r2.Vec, len(marks)), make([]r2.Vec, len(marks))
	for i, m := range marks {
		mm[i], px[i] = m.Mm, m.Px
	}
	return fitHomography(mm, px)
}

// startCamera is a camera to begin with, from the marks of one photograph.
func startCamera(marks []Mark, p prior) (Camera, error) {
	h, ok := homographyOf(marks)
	if !ok {
		return Camera{}, ErrOnALine
	}
	f := math.Exp(p.logF)
	if !p.focalKnown {
		// The marks' own word, where it is within reason of the prior.
		if g, ok := h.focal(p.cx, p.cy); ok && math.Abs(math.Log(g)-p.logF) < 2*p.logFDoubt {
			f = g
		}
	}
	cam, ok := h.pose(f, p.cx, p.cy)
	if !ok {
		return Camera{}, ErrNoSolution
	}
	return cam, nil
}

// shareLens gives all photographs the middle one of their focal lengths, and the
// pose that goes with it.
func (f *fitter) shareLens() {
	if len(f.views) < 2 {
		return
	}
	var all []float64
	for _, c := range f.at.cams {
		all = append(all, c.F)
	}
	slices.Sort(all)
	middle := all[len(all)/2]
	for v, marks := range f.views {
		c := &f.at.cams[v]
		if h, ok := homographyOf(marks); ok {
			if again, ok := h.pose(middle, c.Cx, c.Cy); ok {
				*c = again
			}
		}
		c.F = middle
	}
}
