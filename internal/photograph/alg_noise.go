package photograph

import (
	"math"
	"math/rand/v2"
	"sync"
)

// grain is a tile of smooth noise that repeats without a seam, mean 0 and standard
// deviation 1: octaves of value noise, smoothly interpolated.
const grainSize = 512

var grain = sync.OnceValue(func() []float32 {
	rng := rand.New(rand.NewPCG(20, 26))
	out := make([]float32, grainSize*grainSize)
	for cell, gain := 2, 1.0; cell <= 16; cell, gain = 2*cell, gain*0.8 {
		n := grainSize / cell
		knots := make([]float64, n*n)
		for i := range knots {
			knots[i] = rng.NormFloat64() * gain
		}
		for y := range grainSize {
			j, fy := y/cell, smooth(float64(y%cell)/float64(cell))
			for x := range grainSize {
				i, fx := x/cell, smooth(float64(x%cell)/float64(cell))
				i1, j1 := (i+1)%n, (j+1)%n
				top := knots[j*n+i]*(1-fx) + knots[j*n+i1]*fx
				low := knots[j1*n+i]*(1-fx) + knots[j1*n+i1]*fx
				out[y*grainSize+x] += float32(top*(1-fy) + low*fy)
			}
		}
	}
	var mean, ss float64
	for _, v := range out {
		mean += float64(v) / float64(len(out))
	}
	for _, v := range out {
		ss += (float64(v) - mean) * (float64(v) - mean) / float64(len(out))
	}
	for i, v := range out {
		out[i] = float32((float64(v) - mean) / math.Sqrt(ss))
	}
	return out
})

func smooth(t float64) float64 { return t * t * (3 - 2*t) }

// ramp is 0 below lo, 1 above hi and smooth between.
func ramp(x, lo, hi float64) float64 { return smooth(min(1, max(0, (x-lo)/(hi-lo)))) }

// noise reads the grain between its points.
func noise(g []float32, x, y float64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	i, j := int(fx)&(grainSize-1), int(fy)&(grainSize-1)
	i1, j1 := (i+1)&(grainSize-1), (j+1)&(grainSize-1)
	x, y = x-fx, y-fy
	top := float64(g[j*grainSize+i])*(1-x) + float64(g[j*grainSize+i1])*x
	low := float64(g[j1*grainSize+i])*(1-x) + float64(g[j1*grainSize+i1])*x
	return top*(1-y) + low*y
}

// bell is a table of normal deviates at even steps of their probability, for
// the sensor's noise: two bytes of a random number are one deviate.
var bell = sync.OnceValue(func() []float32 {
	out := make([]float32, 1<<12)
	for i := range out {
		p := (float64(i) + 0.5) / float64(len(out))
		out[i] = float32(math.Sqrt2 * math.Erfinv(2*p-1))
	}
	return out
})
