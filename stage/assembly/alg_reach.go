package assembly

import (
	"cmp"
	"math"
	"slices"

	"scalewright/model"
)

// leadsOut reports whether room of a width leads from a place out of a body: a
// walk from millimetre to millimetre through the stretches of radii that its
// things leave free, no further along the axis than an arm.
func leadsOut(body []*thing, station, radius, need float64) bool {
	low, high := math.Inf(1), math.Inf(-1)
	for _, t := range body {
		if len(t.bands) > 0 {
			low, high = min(low, t.low), max(high, t.high)
		}
	}
	if station < low || station > high {
		return true
	}
	type spot struct{ k, i int }
	first := int(math.Floor(station))
	free := map[int][]gap{}
	at := func(k int) []gap {
		g, ok := free[k]
		if !ok {
			g = freeAt(body, k)
			free[k] = g
		}
		return g
	}
	start := nearest(at(first), radius)
	if start < 0 {
		return false
	}
	seen := map[spot]bool{{first, start}: true}
	todo := []spot{{first, start}}
	for len(todo) > 0 {
		s := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		from := at(s.k)[s.i]
		if math.IsInf(from.out, 1) {
			return true
		}
		for _, k := range [...]int{s.k - 1, s.k + 1} {
			if math.Abs(float64(k)+0.5-station) > arm {
				continue
			}
			for i, to := range at(k) {
				both := gap{max(from.in, to.in), min(from.out, to.out)}
				if next := (spot{k, i}); both.in < both.out && both.wide() >= need && !seen[next] {
					seen[next] = true
					todo = append(todo, next)
				}
			}
		}
	}
	return false
}

// freeAt are the stretches of radii without material, the last without end.
func freeAt(body []*thing, k int) []gap {
	var full []gap
	for _, t := range body {
		full = append(full, t.bands[k]...)
	}
	slices.SortFunc(full, func(a, b gap) int { return cmp.Compare(a.in, b.in) })
	var out []gap
	r := 0.0
	for _, g := range full {
		if g.in > r {
			out = append(out, gap{r, g.in})
		}
		r = max(r, g.out)
	}
	return append(out, gap{r, math.Inf(1)})
}

// nearest is the stretch that holds a radius, or else lies nearest to it.
func nearest(free []gap, radius float64) int {
	best, off := -1, math.Inf(1)
	for i, g := range free {
		if d := max(0, g.in-radius, radius-g.out); d < off {
			best, off = i, d
		}
	}
	return best
}

// needs is the width of room that a component is brought through.
func needs(b model.Bay) float64 {
	size := []float64{float64(b.Size[0]), float64(b.Size[1]), float64(b.Size[2])}
	slices.Sort(size)
	return max(size[1], fingers)
}
