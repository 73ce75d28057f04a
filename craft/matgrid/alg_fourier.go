package matgrid

import (
	"math"
	"math/bits"
	"math/cmplx"
	"sync"
)

// fourier is the discrete Fourier transform of patch values in place, by halving
// (Cooley & Tukey, An Algorithm for the Machine Calculation of Complex Fourier
// Series, Math. Comp. 19 (1965) 297-301). A general one spends more on being
// general than these 32 values cost.
func fourier(z *[patch]complex128) {
	t := roots()
	for i, j := range t.swap {
		if i < j {
			z[i], z[j] = z[j], z[i]
		}
	}
	for half := 1; half < patch; half *= 2 {
		every := patch / 2 / half
		for from := 0; from < patch; from += 2 * half {
			for k := range half {
				a, b := z[from+k], z[from+k+half]*t.root[k*every]
				z[from+k], z[from+k+half] = a+b, a-b
			}
		}
	}
}

// rootTable is the roots of unity, and where each value goes first: to its number
// read backwards in binary.
type rootTable struct {
	root [patch / 2]complex128
	swap [patch]int
}

var roots = sync.OnceValue(func() *rootTable {
	t := &rootTable{}
	for k := range t.root {
		t.root[k] = cmplx.Rect(1, -2*math.Pi*float64(k)/patch)
	}
	log := bits.Len(patch) - 1
	for k := range t.swap {
		t.swap[k] = int(bits.Reverse32(uint32(k)) >> (32 - log))
	}
	return t
})
