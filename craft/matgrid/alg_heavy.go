package matgrid

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
)

// heavyRounds are every how many lines mats print one heavier: by fives and tens on
// centimetres, by twos to fours, sixes and twelves on inches and halves.
var heavyRounds = []int{2, 3, 4, 5, 6, 10, 12}

// heavySteps are the steps, mm, of mats by every how many lines one is heavier
// (common practice): where several are sold so, none. One in two is heavier on half
// inches and on half centimetres, one in four or six on inches and on their halves.
var heavySteps = map[int]float64{3: 25.4, 5: 10, 10: 10}

const (
	// leastSpots on a line, or its weight is not told.
	leastSpots = 3
	// heavyLeast is the least by which a heavier line exceeds the others, a share.
	heavyLeast = 0.15
	// heavyClear is how many times better the right round must fit than the next.
	heavyClear = 4.0
	// leastHeavy is how many heavier lines must be seen in one family, or two with others
	// beyond both; leastLines is how many in all.
	leastHeavy, leastLines = 3, 7
	// heavyFloor is added, of 255, to the light that a line's ink is compared with.
	heavyFloor = 8.0
)

// heavyOf is every how many lines of the grid one is heavier; zero where none is, or
// the picture does not tell. Both families must say the same if both speak.
func heavyOf(g *grey, sign float64, v view, c []Crossing) int {
	weights := lineWeights(g, sign, v, c)
	said := 0
	for _, w := range weights {
		n := heavyRound(w)
		if n > 0 && said > 0 && n != said {
			return 0
		}
		said = max(said, n)
	}
	return said
}

// lineWeights are, by family and number, the logarithm of how much ink a line shows
// half way between its crossings, over the light beside it: a shadow takes as much of
// both. The outermost are left out: mats frame their grid.
func lineWeights(g *grey, sign float64, v view, c []Crossing) (out [2]map[int]float64) {
	b := boundsOf(c)
	spots := [2]map[int][]float64{{}, {}}
	for _, x := range c {
		for d, end := range [2]r2.Vec{{Y: 0.5}, {X: 0.5}} {
			n, lo, hi := x.I, b.i0, b.i1
			if d == 1 {
				n, lo, hi = x.J, b.j0, b.j1
			}
			if n == lo || n == hi {
				continue
			}
			at := r2.Add(r2.Vec{X: float64(x.I), Y: float64(x.J)}, end)
			if w, ok := inkAt(g, sign, v, at, r2.Vec{X: end.Y, Y: end.X}); ok {
				spots[d][n] = append(spots[d][n], w)
			}
		}
	}
	for d := range spots {
		out[d] = map[int]float64{}
		for n, w := range spots[d] {
			slices.Sort(w)
			if middle := w[len(w)/2]; len(w) >= leastSpots && middle > 0 {
				out[d][n] = math.Log(middle)
			}
		}
	}
	return out
}

// inkAt is how much light a line adds at a place of it, over a cut eight tenths of a step
// long across it (across is half a step): as a share of the light beside it, times steps.
func inkAt(g *grey, sign float64, v view, at, across r2.Vec) (float64, bool) {
	const cuts, inner = 60, 15 // of either side those within a quarter are the line's
	var light [2*cuts + 1]float64
	for k := range light {
		p, ok := v.px(r2.Add(at, r2.Scale(0.8*float64(k-cuts)/cuts, across)))
		if !ok || !g.inside(p.X, p.Y, 1) {
			return 0, false
		}
		light[k] = sign * g.at(p.X, p.Y)
	}
	beside := slices.Concat(light[:cuts-inner], light[cuts+inner+1:])
	slices.Sort(beside)
	ground := beside[len(beside)/2]
	sum := 0.0
	for _, l := range light[cuts-inner : cuts+inner+1] {
		sum += (l - ground) * 0.4 / cuts
	}
	return sum / (math.Abs(ground) + heavyFloor), true
}

// heavyRound is the round in which the lines of one family are heavier: the one that
// fits their weights far better than every other.
func heavyRound(weights map[int]float64) int {
	if len(weights) < leastLines {
		return 0
	}
	best, next := fitted{off: math.Inf(1)}, math.Inf(1)
	for _, round := range heavyRounds {
		own := fitted{off: math.Inf(1)}
		for r := range round {
			if f := fitRound(weights, round, r); f.more > 0 && f.off < own.off {
				own = f
			}
		}
		if own.off < best.off {
			best, own = own, best
		}
		next = min(next, own.off)
	}
	few := best.count < leastHeavy-1 || best.count < leastHeavy && !best.within
	if few || best.more < heavyLeast || next < heavyClear*best.off {
		return 0
	}
	return best.round
}

// fitted is how well a round fits the weights of lines.
type fitted struct {
	round, count int     // count of the heavier lines that were seen
	within       bool    // others lie beyond the first of them, and beyond the last
	more         float64 // by which they exceed the others, as a logarithm
	off          float64 // what is left, squared and summed
}

// fitRound takes the lines whose number leaves r for heavier, over a weight that
// changes evenly across the photograph.
func fitRound(weights map[int]float64, round, r int) fitted {
	f := fitted{round: round, off: math.Inf(1)}
	numbers := make([]int, 0, len(weights))
	for n := range weights {
		numbers = append(numbers, n)
	}
	slices.Sort(numbers)
	f.within = numbers[0]%round != r && numbers[len(numbers)-1]%round != r
	a, b := mat.NewDense(len(numbers), 3, nil), mat.NewVecDense(len(numbers), nil)
	for k, n := range numbers {
		heavy := 0.0
		if n%round == r {
			heavy = 1
			f.count++
		}
		a.SetRow(k, []float64{1, float64(n), heavy})
		b.SetVec(k, weights[n])
	}
	var x, off mat.VecDense
	if f.count == 0 || f.count == len(numbers) || x.SolveVec(a, b) != nil {
		return f
	}
	off.MulVec(a, &x)
	off.SubVec(&off, b)
	f.more, f.off = x.AtVec(2), mat.Dot(&off, &off)
	return f
}
