package matgrid

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// How far to either side of where a line is foretold it is looked for: a share of
// the distance to the next line, but so far that a blurred line is seen with mat
// beside it, and never more pixels than the reduced picture errs and the boldest
// line is wide.
const (
	widestLook = 0.085
	leastLook  = 7.0
	mostLook   = 14.0
	cutFine    = 0.5 // pixels between samples across
)

// Pieces that a line is averaged over, to either side of a crossing.
const (
	pieceLong   = 7.0 // pixels
	leastPieces = 3
	mostPieces  = 8
)

// cut is the light across a line, averaged over a piece of it.
type cut struct {
	t     float64   // where along the line, from the crossing
	light []float64 // from -search to +search across, times sign
	reach float64
}

// cuts averages the light across a line over pieces, from one place along it on.
func cuts(g *grey, sign float64, at, dir, n r2.Vec, from, each float64, pieces int, search float64) (out []cut) {
	m := int(2*search/cutFine) + 1
	looks := max(3, int(math.Ceil(each)))
	for k := range pieces {
		c := cut{t: from + (float64(k)+0.5)*each, light: make([]float64, m), reach: search}
		p := r2.Add(at, r2.Scale(c.t, dir))
		if !g.inside(p.X, p.Y, search+each+2) {
			continue
		}
		for j := range looks {
			q := r2.Add(p, r2.Scale(((float64(j)+0.5)/float64(looks)-0.5)*each, dir))
			for i := range c.light {
				d := cutFine*float64(i) - search
				c.light[i] += sign * g.at(q.X+d*n.X, q.Y+d*n.Y) / float64(looks)
			}
		}
		out = append(out, c)
	}
	return out
}

// lineWidth is how far to either side the line must be looked at to be seen whole
// with some mat beside it, and about where it lies: by the median of all pieces.
func lineWidth(s []cut, search float64) (half, o float64, ok bool) {
	m := len(s[0].light)
	middle := make([]float64, m)
	one := make([]float64, len(s))
	for i := range middle {
		for k, c := range s {
			one[k] = c.light[i]
		}
		slices.Sort(one)
		middle[i] = (one[len(one)/2] + one[(len(one)-1)/2]) / 2
	}
	sorted := slices.Clone(middle)
	slices.Sort(sorted)
	base := sorted[m/4]
	top := 0
	for i := range middle {
		if middle[i] > middle[top] {
			top = i
		}
	}
	height := middle[top] - base
	if height < leastTop {
		return 0, 0, false
	}
	lo, hi := top, top
	for lo > 0 && middle[lo-1] > base+height/2 {
		lo--
	}
	for hi < m-1 && middle[hi+1] > base+height/2 {
		hi++
	}
	wide := cutFine * float64(hi-lo+1)
	return max(3, 0.75*wide+1.5), cutFine*float64(lo+hi)/2 - search, true
}

// lopsided is how much of a line's height the light may differ between its two
// sides: more is another line's end, an edge, a tick.
const lopsided = 0.2

// middle is the centre of light of a line in a cut, looked for half pixels to
// either side of o; ok is false where no line stands out. The light is taken over
// what lies beside the line: in the rim of a shadow ink and mat darken alike.
func (c *cut) middle(half, o float64) (float64, bool) {
	start := o
	for range 4 {
		if math.Abs(o-start) > half || math.Abs(o)+half > c.reach+2 {
			return 0, false
		}
		low, high := c.at(o-half), c.at(o+half)
		var sum, moment, top float64
		level := max(math.Abs(low+high)/2, 1)
		for d := -half; d <= half+cutFine/2; d += cutFine {
			base := low + (high-low)*(d+half)/(2*half)
			if base == 0 {
				continue
			}
			v := (c.at(o+d) - base) * level / math.Abs(base)
			if v > 0 {
				sum += v
				moment += v * d
				top = max(top, v)
			}
		}
		if sum <= 0 || top < leastTop {
			return 0, false
		}
		o += moment / sum
		if math.Abs(high-low) > lopsided*top && math.Abs(moment/sum) < 0.02 {
			return 0, false
		}
	}
	return o, true
}

// at reads a cut between its samples.
func (c *cut) at(d float64) float64 {
	x := min(max((d+c.reach)/cutFine, 0), float64(len(c.light)-1))
	i := min(int(x), len(c.light)-2)
	return c.light[i] + (x-float64(i))*(c.light[i+1]-c.light[i])
}

// leastTop is the least height of a printed line over the mat, of 255.
const leastTop = 6
