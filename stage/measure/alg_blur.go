package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/cores"
)

// commonBlur is the width of the picture's own blur: the one that leaves the least
// at the steps, by the median over them, between the tried ones by a parabola. The
// ramp inside makes the place of an edge hang on it: a tenth of a pixel of blur is
// a tenth of a pixel of place, nearly.
func (m ground) commonBlur(pts []r2.Vec) float64 {
	const every = 5 // points
	read := make([]step, (len(pts)+every-1)/every)
	cores.Each(len(read), func(k int) {
		at, dir := tangent(pts, k*every, 5)
		read[k] = m.readStep(at, outwards(dir), stepReach)
	})
	steps := slices.DeleteFunc(read, func(s step) bool { return !s.clear || s.lined })
	const from, by, n = 0.4, 0.1, 23
	var left [n]float64
	for k := range left {
		left[k] = math.Inf(1)
	}
	// Every other one, then those beside the best.
	cores.Each((n+1)/2, func(k int) { left[2*k] = leftAt(steps, from+by*float64(2*k)) })
	best := floats.MinIdx(left[:])
	cores.Each(2, func(k int) {
		if beside := best + 2*k - 1; beside > 0 && beside < n {
			left[beside] = leftAt(steps, from+by*float64(beside))
		}
	})
	best = floats.MinIdx(left[:])
	if math.IsInf(left[best], 1) {
		return 1
	}
	w := from + by*float64(best)
	if best > 0 && best < n-1 && !math.IsInf(left[best-1]+left[best+1], 1) {
		l, m, h := left[best-1], left[best], left[best+1]
		w += by * 0.5 * (l - h) / (l - 2*m + h)
	}
	return w
}

// leftAt is the median of what so wide a blur leaves at the steps. One that fits few of
// them is not the picture's.
func leftAt(steps []step, blur float64) float64 {
	var all []float64
	for _, s := range steps {
		if _, _, rms, ok := s.fit(blur); ok && rms > 0 {
			all = append(all, rms)
		}
	}
	if len(all) < 10 || 2*len(all) <= len(steps) {
		return math.Inf(1)
	}
	return median(all)
}
