package matgrid

import (
	"math"
	"math/cmplx"
	"slices"
)

const (
	// longerSure is how many standard deviations longer strokes must stand out by.
	longerSure = 4.0
	// secondShare: of halved millimetres or inches every second one is longer by more
	// than every fifth; of millimetres none in the middle.
	secondShare = 0.6
)

// longer tells which strokes of a row reach farther: light is that of lines beside
// one another along the row, z the strokes' wave along it.
func longer(light [][]float64, z []complex128, waves, t0, dt float64) Longer {
	best, said := 0.0, NoneSeen
	// The wave's crests lie on strokes brighter than the ruler, half way between
	// darker ones.
	for _, shift := range [2]float64{0, 0.5} {
		depth := strokeDepths(light, z, waves, t0, dt, shift)
		if len(depth) < 10 {
			continue
		}
		second, secondDoubt := standsOut(depth, 2)
		fifth, fifthDoubt := standsOut(depth, 5)
		switch {
		case second > longerSure*secondDoubt && second > secondShare*fifth && second/secondDoubt > best:
			best, said = second/secondDoubt, EverySecond
		case fifth > longerSure*fifthDoubt && second < secondShare*fifth && fifth/fifthDoubt > best:
			best, said = fifth/fifthDoubt, EveryFifth
		}
	}
	return said
}

// strokeDepths is, by stroke, how much it differs from what lies between it and its
// neighbours, over all lines together: longer strokes do so on more lines. Strokes
// lie shift of their distance past the wave's crests.
func strokeDepths(light [][]float64, z []complex128, waves, t0, dt, shift float64) map[int]float64 {
	least := strong(z)
	out := map[int]float64{}
	at := func(l []float64, i float64) float64 {
		k := int(i)
		return l[k] + (i-float64(k))*(l[k+1]-l[k])
	}
	half := fineness / 2.0
	for i := fineness; i < len(z)-fineness-1; i++ {
		if cmplx.Abs(z[i]) < least || cmplx.Abs(z[i+1]) < least {
			continue
		}
		a := waves*(t0+dt*float64(i)) + cmplx.Phase(z[i])/(2*math.Pi) - shift
		b := a + waves*dt + cmplx.Phase(z[i+1]*cmplx.Conj(z[i]))/(2*math.Pi)
		m := math.Ceil(a)
		if m > b || b <= a {
			continue
		}
		x := float64(i) + (m-a)/(b-a)
		sum := 0.0
		for _, l := range light {
			sum += at(l, x) - (at(l, x-half)+at(l, x+half))/2
		}
		out[int(m)] += sum / float64(len(light))
	}
	return out
}

// standsOut is by how much the strokes of one residue, the one that stands out
// most, exceed the others of each round in the middle, and its standard uncertainty.
// Medians, since where the row's band leaves the ruler, or crosses figures, single
// strokes say anything.
func standsOut(depth map[int]float64, round int) (best, doubt float64) {
	lo, hi := math.MaxInt, math.MinInt
	mean := 0.0
	for m, d := range depth {
		lo, hi = min(lo, m), max(hi, m)
		mean += d
	}
	sign := math.Copysign(1, mean)
	for r := range round {
		var all []float64
		for m := lo; m <= hi; m++ {
			if ((m-r)%round+round)%round != 0 {
				continue
			}
			d, ok := depth[m]
			sum, n := 0.0, 0
			for k := -(round - 1); k < round; k++ {
				if e, ok := depth[m+k]; ok && k != 0 {
					sum, n = sum+e, n+1
				}
			}
			if ok && n >= round-1 {
				all = append(all, sign*(d-sum/float64(n)))
			}
		}
		if len(all) < 3 {
			continue
		}
		slices.Sort(all)
		n := len(all)
		mid := (all[n/2] + all[(n-1)/2]) / 2
		for k := range all {
			all[k] = math.Abs(all[k] - mid)
		}
		slices.Sort(all)
		if mid > best {
			// Of a median: √(π/2) that of a mean, its scatter by the median of strays.
			best, doubt = mid, math.Sqrt(math.Pi/2/float64(n))*1.4826*all[n/2]
		}
	}
	return best, doubt
}
