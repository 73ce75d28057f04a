package fit

import (
	"math/rand/v2"
	"slices"

	"scalewright/model"
)

// The stack is put together so many times: the chance is then good to about one
// in a hundred (√(p(1-p)/n) at most 0.008).
const trials = 4000

// together is the chance that no fit binds, by sampling: each shared source is
// drawn once a trial, whatever joints it touches, and the independent rest of
// every fit for itself.
func together(fits []model.Fit, seed uint64) float64 {
	var names []string
	for _, f := range fits {
		for _, s := range f.Clearance.Sources {
			names = append(names, s.Name)
		}
	}
	slices.Sort(names)
	names = slices.Compact(names)
	random := rand.New(rand.NewPCG(seed, 1))
	good := 0
	drawn := make([]float64, len(names))
	for range trials {
		for i := range drawn {
			drawn[i] = random.NormFloat64()
		}
		goes := true
		for _, f := range fits {
			clearance := f.Clearance.X + f.Clearance.Independent()*random.NormFloat64()
			for _, s := range f.Clearance.Sources {
				at, _ := slices.BinarySearch(names, s.Name)
				clearance += s.U * drawn[at]
			}
			goes = goes && clearance >= 0
		}
		if goes {
			good++
		}
	}
	return float64(good) / trials
}
