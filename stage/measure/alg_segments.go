package measure

import (
	"math"

	"scalewright/model"
)

// Description lengths, in units of half a chi-squared: what a segment must save
// to be worth its parameters. The Bayesian information criterion (Schwarz, Ann.
// Statist. 6 (1978) 461-464) charges half a logarithm of the count of readings for
// each parameter: two and a place to begin for a line, one more for an arc.
const (
	lineParams = 3
	arcParams  = 4
	// Neighbouring stations share edge points: some three carry the news of one.
	independent = 3.0
	// A reading left out at a corner, where it blends two segments, costs as one
	// three standard deviations off.
	leaveOut = 4.5
	// At most so many readings are left out between two segments.
	mostLeftOut = 3
	// The least doubt of a reading that lines and arcs are drawn through, mm.
	segmentFloor = 0.012
	fewest       = 5 // readings in a segment
)

// segments draws lines and arcs through a profile: the cheapest description by
// dynamic programming over where segments end (Perez & Vidal, Pattern
// Recognition Letters 15 (1994) 743-750; cost of arcs after Horng & Li, Pattern
// Recognition Letters 23 (2002) 1585-1594). Corners are where neighbours meet, or
// a step at one station where they do not.
func segments(rows []row) model.Outline {
	f := newFitter(rows)
	pieces := f.divide()
	if len(pieces) == 0 {
		return nil
	}
	for i := range pieces {
		pieces[i].fit(rows)
	}
	return join(pieces, rows)
}

// piece is a segment under way: rows [from, to].
type piece struct {
	from, to int
	arc      bool
	m, b     float64 // line r = m·s + b
	cs, cr   float64 // centre of an arc
	r        float64
}

// fitter holds sums of weighted moments up to each row, so that a line or an
// algebraic circle through any stretch costs the same.
type fitter struct {
	rows []row
	sum  [][12]float64
	s0   float64
}

func newFitter(rows []row) *fitter {
	f := &fitter{rows: rows, sum: make([][12]float64, len(rows)+1), s0: rows[len(rows)/2].s}
	for k, d := range rows {
		u := max(d.u, segmentFloor)
		w := 1 / (u * u * independent)
		if k == 0 || k == len(rows)-1 {
			w *= 0.01 // the ends are drawn, not read
		}
		x, y := d.s-f.s0, d.r
		z := x*x + y*y
		for i, v := range [12]float64{1, x, y, x * x, x * y, y * y, z, z * x, z * y, z * z, 0, 0} {
			f.sum[k+1][i] = f.sum[k][i] + w*v
		}
	}
	return f
}

func (f *fitter) moments(i, j int) (m [12]float64) {
	for k := range m {
		m[k] = f.sum[j+1][k] - f.sum[i][k]
	}
	return m
}

// line is half of chi-squared of the best line through rows i to j.
func (f *fitter) line(i, j int) float64 {
	m := f.moments(i, j)
	sxx := m[3] - m[1]*m[1]/m[0]
	sxy := m[4] - m[1]*m[2]/m[0]
	syy := m[5] - m[2]*m[2]/m[0]
	if sxx <= 0 {
		return math.Inf(1)
	}
	return max(0, syy-sxy*sxy/sxx) / 2
}

// arc is half of chi-squared of the algebraic circle (Kåsa, IEEE Trans. Instrum.
// Meas. 25 (1976) 8-14) through rows i to j, its residuals brought to distances by
// the diameter. It serves to choose; the chosen arc is fitted by distance.
func (f *fitter) arc(i, j int) (cost, radius float64) {
	m := f.moments(i, j)
	// z + D·x + E·y + F = 0.
	n := [4][5]float64{
		{m[3], m[4], m[1], 0, -m[7]},
		{m[4], m[5], m[2], 0, -m[8]},
		{m[1], m[2], m[0], 0, -m[6]},
		{0, 0, 0, 1, 0},
	}
	q, ok := solve4(n)
	if !ok {
		return math.Inf(1), 0
	}
	rr := (q[0]*q[0]+q[1]*q[1])/4 - q[2]
	if rr <= 0 {
		return math.Inf(1), 0
	}
	ss := m[9] + q[0]*q[0]*m[3] + q[1]*q[1]*m[5] + q[2]*q[2]*m[0] +
		2*(q[0]*m[7]+q[1]*m[8]+q[2]*m[6]+q[0]*q[1]*m[4]+q[0]*q[2]*m[1]+q[1]*q[2]*m[2])
	return max(0, ss) / (4 * rr) / 2, math.Sqrt(rr)
}

// Arcs flatter than this many times the body's length are lines for all that a
// maker can do, and rounder than this are corners, mm.
const (
	flattest = 10.0
	roundest = 0.5
)

func (f *fitter) divide() []piece {
	n := len(f.rows)
	perParam := 0.5 * math.Log(float64(n))
	best := make([]float64, n+1)
	back := make([]piece, n+1)
	prev := make([]int, n+1)
	for j := 1; j <= n; j++ {
		best[j] = math.Inf(1)
		for i := max(0, j-1-n); i+fewest <= j; i++ {
			kinds := [2]float64{f.line(i, j-1) + lineParams*perParam, math.Inf(1)}
			if j-i >= fewest+2 {
				if c, r := f.arc(i, j-1); r < flattest*(f.rows[n-1].s-f.rows[0].s) && r > roundest {
					kinds[1] = c + arcParams*perParam
				}
			}
			for skip := 0; skip <= mostLeftOut && skip <= i; skip++ {
				at := i - skip
				if at > 0 && at < fewest || at == 0 && skip > 1 {
					continue
				}
				for k, c := range kinds {
					if total := best[at] + c + leaveOut*float64(skip); total < best[j] {
						best[j], prev[j] = total, at
						back[j] = piece{from: i, to: j - 1, arc: k == 1}
					}
				}
			}
		}
	}
	// A last reading or two may be left out like those between.
	end := n
	for skip := 1; skip <= 1; skip++ {
		if best[n-skip]+leaveOut*float64(skip) < best[end] {
			end = n - skip
		}
	}
	var out []piece
	for j := end; j > 0 && !math.IsInf(best[j], 1); j = prev[j] {
		out = append(out, back[j])
	}
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	return out
}
