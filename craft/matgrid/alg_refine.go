package matgrid

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/cores"
)

// Where along a line its middle is taken to fix a crossing, as shares of a step
// to either side: clear of the crossing itself and of the next one.
const (
	refineFrom = 0.14
	refineTo   = 0.44
)

// refine measures a crossing again in the full picture, from where it was found
// in the reduced one: a straight line through the middles of either printed line,
// and where the two meet.
func refine(g *grey, sign float64, c crossing) (r2.Vec, bool) {
	at := c.at
	for range 2 { // the second time the cuts lie where the lines are
		var n [2]r2.Vec
		var off [2]float64
		for d := range 2 {
			l, ok := middleLine(g, sign, at, c.steps[d], r2.Norm(c.steps[1-d]))
			if !ok {
				return at, false
			}
			n[d], off[d] = r2.Vec{X: -l.dir.Y, Y: l.dir.X}, l.off
		}
		move, ok := meet(n[0], off[0], n[1], off[1])
		if !ok || r2.Norm(move) > 0.15*r2.Norm(c.steps[0]) {
			return at, false
		}
		at = r2.Add(at, move)
	}
	return at, true
}

// middleLine fits a line through the middles of a printed line. Grain and blots of
// the mat are as strong as a thin line at a single cut, so the light is first
// averaged along pieces of it. Half of the pieces must agree, and some on either side.
func middleLine(g *grey, sign float64, at, step r2.Vec, apart float64) (line, bool) {
	long := r2.Norm(step)
	dir := r2.Scale(1/long, step)
	n := r2.Vec{X: -dir.Y, Y: dir.X}
	search := min(max(leastLook, widestLook*apart), mostLook)
	pieces := int(min(max(math.Round((refineTo-refineFrom)*long/pieceLong), leastPieces), mostPieces))
	each := (refineTo - refineFrom) * long / float64(pieces)
	s := slices.Concat(cuts(g, sign, at, dir, n, -refineTo*long, each, pieces, search), cuts(g, sign, at, dir, n, refineFrom*long, each, pieces, search))
	if 2*len(s) < 2*pieces {
		return line{}, false
	}
	half, o, ok := lineWidth(s, search)
	if !ok {
		return line{}, false
	}
	var ts, os []float64
	sides := [2]int{}
	for _, c := range s {
		if m, ok := c.middle(half, o); ok {
			ts, os = append(ts, c.t), append(os, m)
			if c.t > 0 {
				sides[1]++
			} else {
				sides[0]++
			}
		}
	}
	if len(ts) < pieces || 4*min(sides[0], sides[1]) < pieces {
		return line{}, false
	}
	a, b, ok := robustLine(ts, os)
	if !ok || math.Abs(b) > 0.15 {
		return line{}, false
	}
	turned := r2.Unit(r2.Add(dir, r2.Scale(b, n)))
	return line{turned, a / math.Sqrt(1+b*b)}, true
}

// robustLine is o = a + b·t by least squares under Huber's weights (scale from
// the median of the residuals).
func robustLine(ts, os []float64) (a, b float64, ok bool) {
	w := make([]float64, len(ts))
	for k := range w {
		w[k] = 1
	}
	res := make([]float64, len(ts))
	for range 6 {
		var s, st, stt, so, sto float64
		for k, t := range ts {
			s, st, stt = s+w[k], st+w[k]*t, stt+w[k]*t*t
			so, sto = so+w[k]*os[k], sto+w[k]*t*os[k]
		}
		det := s*stt - st*st
		if det <= 1e-9*s*stt {
			return 0, 0, false
		}
		b = (s*sto - st*so) / det
		a = (so - b*st) / s
		for k, t := range ts {
			res[k] = math.Abs(os[k] - a - b*t)
		}
		sorted := slices.Clone(res)
		slices.Sort(sorted)
		scale := max(1.4826*sorted[len(sorted)/2], 0.02)
		for k, r := range res {
			w[k] = min(1, 1.345*scale/max(r, 1e-12))
			if r > 4*scale {
				w[k] = 0
			}
		}
	}
	return a, b, true
}

// refineAll measures every crossing in the full picture; n reduced pixels went
// into one. What fails there is left out.
func refineAll(ctx context.Context, g *grey, sign float64, l *lattice, n int) (map[node]r2.Vec, error) {
	got := make([]r2.Vec, len(l.order))
	good := make([]bool, len(l.order))
	k := float64(n-1) / 2
	err := cores.Rows(ctx, len(l.order), func(i int) {
		c := l.at[l.order[i]]
		full := crossing{at: r2.Vec{X: float64(n)*c.at.X + k, Y: float64(n)*c.at.Y + k}}
		for d := range 2 {
			full.steps[d] = r2.Scale(float64(n), c.steps[d])
		}
		got[i], good[i] = refine(g, sign, full)
	})
	out := map[node]r2.Vec{}
	for i, at := range got {
		if good[i] {
			out[l.order[i]] = at
		}
	}
	return out, err
}
