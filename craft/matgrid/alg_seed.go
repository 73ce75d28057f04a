package matgrid

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/cores"
)

// seed is a place where the picture looks like a grid: a crossing and the two
// steps from it to its neighbours, reduced pixels.
type seed struct {
	at    r2.Vec
	steps [2]r2.Vec
	score float64 // 0 to 1: how much of what is there follows the even spacing
}

// seedReach is half of a window's side, reduced pixels: the small windows see a
// centimetre's grid from afar, the large ones an inch's from near.
var seedReach = [2]float64{90, 230}

const (
	leastStep = 7.0               // pixels between lines, below which they run together here
	likeTurn  = 8 * math.Pi / 180 // lines of one family lie within this of each other in a window
)

// seeds lists the windows, reach to either side, that look like a grid, the best
// first.
func (r *ridges) seeds(reach float64) []seed {
	var middles []r2.Vec
	for y := reach; y < float64(r.h*bucket)-reach/2; y += 0.7 * reach {
		for x := reach; x < float64(r.w*bucket)-reach/2; x += 0.7 * reach {
			middles = append(middles, r2.Vec{X: x, Y: y})
		}
	}
	found := make([][]seed, len(middles))
	cores.Each(len(middles), func(k int) {
		if s, ok := r.seedAt(middles[k].X, middles[k].Y, reach); ok {
			found[k] = []seed{s}
		}
	})
	out := slices.Concat(found...)
	slices.SortStableFunc(out, func(a, b seed) int { return cmp.Compare(b.score, a.score) })
	return out
}

// seedAt looks for two families of evenly spaced lines, square to each other, in
// the window round a place.
func (r *ridges) seedAt(x, y, reach float64) (seed, bool) {
	var in []ridge
	r.near(x, y, reach, func(p ridge) {
		if math.Abs(float64(p.x)-x) < reach && math.Abs(float64(p.y)-y) < reach {
			in = append(in, p)
		}
	})
	if len(in) < 200 {
		return seed{}, false
	}
	turn := squareDirection(in)
	var comb [2]comb
	for k := range comb {
		c, ok := combOf(in, window{r2.Vec{X: x, Y: y}, reach}, turn+float64(k)*math.Pi/2)
		if !ok {
			return seed{}, false
		}
		comb[k] = c
	}
	a, b := comb[0].step, comb[1].step
	if a > 1.3*b || b > 1.3*a {
		return seed{}, false
	}
	// The crossing: on a line of the first family and on one of the second.
	n0, n1 := comb[0].normal, comb[1].normal
	at, ok := meet(n0, comb[0].phase, n1, comb[1].phase)
	if !ok {
		return seed{}, false
	}
	// Along lines of the first family one steps from line to line of the second.
	along0, ok0 := meet(n0, 0, n1, b)
	along1, ok1 := meet(n0, a, n1, 0)
	if !ok0 || !ok1 {
		return seed{}, false
	}
	return seed{
		at:    r2.Add(r2.Vec{X: x, Y: y}, at),
		steps: rightAndDown(along0, along1),
		score: min(comb[0].score, comb[1].score),
	}, true
}

// rightAndDown orders two steps square to each other so that the first runs to
// the right and the second down the picture, as nearly as they do.
func rightAndDown(a, b r2.Vec) [2]r2.Vec {
	if math.Abs(a.X) < math.Abs(b.X) {
		a, b = b, a
	}
	if a.X < 0 {
		a = r2.Scale(-1, a)
	}
	if a.X*b.Y-a.Y*b.X < 0 {
		b = r2.Scale(-1, b)
	}
	return [2]r2.Vec{a, b}
}

// meet is the place p with n·p = a and m·p = b.
func meet(n r2.Vec, a float64, m r2.Vec, b float64) (r2.Vec, bool) {
	det := n.X*m.Y - n.Y*m.X
	if math.Abs(det) < 0.5 {
		return r2.Vec{}, false
	}
	return r2.Vec{X: (a*m.Y - b*n.Y) / det, Y: (b*n.X - a*m.X) / det}, true
}

// squareDirection is the direction, in [0, π/2), in which together with the one
// square to it most lines run: the lesser of the two counts, so that wood grain,
// which runs one way, is not taken for a grid.
func squareDirection(in []ridge) float64 {
	const n = 90 // bins of 2°
	var count [n]float64
	for _, p := range in {
		count[int(float64(p.angle)/math.Pi*n)%n]++
	}
	sum := func(b int) (s float64) {
		for d := -3; d <= 3; d++ {
			s += count[((b+d)%n+n)%n] * float64(4-max(d, -d))
		}
		return s
	}
	best, most := 0, -1.0
	for b := range n / 2 {
		if v := min(sum(b), sum(b+n/2)); v > most {
			best, most = b, v
		}
	}
	return (float64(best) + 0.5) * math.Pi / n
}

// window is a square of the picture.
type window struct {
	middle r2.Vec
	reach  float64
}

// comb is a family of parallel lines at even spacing: those with normal·p =
// phase + k·step, p from the window's middle.
type comb struct {
	normal      r2.Vec
	step, phase float64
	score       float64
}

// combOf fits a comb to the ridges that run within likeTurn of a direction. The
// step is the first lag at which the autocorrelation of their places across comes
// near its best one.
func combOf(in []ridge, w window, direction float64) (comb, bool) {
	direction = meanDirection(in, direction)
	sin, cos := math.Sincos(direction)
	n := r2.Vec{X: -sin, Y: cos}
	const perPixel = 2
	bins := int(2 * perPixel * w.reach)
	hist := make([]float64, bins)
	total := 0.0
	for _, p := range in {
		if turnBetween(float64(p.angle), direction) > likeTurn {
			continue
		}
		o := n.X*(float64(p.x)-w.middle.X) + n.Y*(float64(p.y)-w.middle.Y)
		if k := int(math.Floor((o + w.reach) * perPixel)); k >= 0 && k < bins {
			hist[k]++
			total++
		}
	}
	if total < 60 {
		return comb{}, false
	}
	soft := make([]float64, bins)
	for k := range soft {
		for d := -2; d <= 2; d++ {
			if j := k + d; j >= 0 && j < bins {
				soft[k] += hist[j] * float64(3-max(d, -d)) / 9
			}
		}
	}
	mean := total / float64(bins)
	lag := func(l int) float64 {
		s := 0.0
		for k := 0; k+l < bins; k++ {
			s += (soft[k] - mean) * (soft[k+l] - mean)
		}
		return s / float64(bins-l)
	}
	zero := lag(0)
	if zero <= 0 {
		return comb{}, false
	}
	var a []float64
	for l := 0; l <= bins/2+2; l++ {
		a = append(a, lag(l)/zero)
	}
	best := 0.0
	first := int(leastStep * perPixel)
	for l := first; l < len(a)-1; l++ {
		if a[l] >= a[l-1] && a[l] >= a[l+1] {
			best = max(best, a[l])
		}
	}
	for l := first; l < len(a)-1; l++ {
		if a[l] < 0.7*best || a[l] < 0.15 || a[l] < a[l-1] || a[l] < a[l+1] {
			continue
		}
		bend := a[l-1] - 2*a[l] + a[l+1]
		step := (float64(l) + (a[l-1]-a[l+1])/(2*min(bend, -1e-9))) / perPixel
		return comb{n, step, phaseOf(soft, step, w.reach), min(1, a[l])}, true
	}
	return comb{}, false
}

// phaseOf is the place nearest the middle at which the teeth stand best.
func phaseOf(soft []float64, step, reach float64) float64 {
	perPixel := float64(len(soft)) / (2 * reach)
	best, at := -1.0, 0.0
	for o := -step / 2; o < step/2; o += 0.25 {
		s := 0.0
		for k := -math.Floor(reach / step); k <= reach/step; k++ {
			if b := int((o + k*step + reach) * perPixel); b >= 0 && b < len(soft) {
				s += soft[b]
			}
		}
		if s > best {
			best, at = s, o
		}
	}
	return at
}

// meanDirection is the mean direction of the ridges near one, by double angles.
func meanDirection(in []ridge, direction float64) float64 {
	for range 3 {
		var s, c float64
		for _, p := range in {
			if turnBetween(float64(p.angle), direction) < likeTurn {
				ps, pc := math.Sincos(2 * float64(p.angle))
				s, c = s+ps, c+pc
			}
		}
		if s == 0 && c == 0 {
			return direction
		}
		direction = math.Atan2(s, c) / 2
	}
	return direction
}
