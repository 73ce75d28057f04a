package camera

import "math"

// prior holds the expected value and standard uncertainty of F (as a
// logarithm), Cx, Cy, K1, K2 and of the mat's print.
type prior struct {
	logF, logFDoubt     float64
	cx, cy, centreDoubt float64
	bend                float64 // of K1 and K2
	scaleDoubt          float64
	heavy               bool // the print may be far off: something better is in the picture
	focalKnown          bool
	refocus, steady     float64 // how far focal length, as a logarithm, and centre move between photographs
}

func newPrior(k Known) prior {
	p := prior{
		cx:          float64(k.Width-1) / 2,
		cy:          float64(k.Height-1) / 2,
		centreDoubt: centreDoubt * float64(max(k.Width, k.Height)),
		bend:        bendDoubt,
		scaleDoubt:  MatDoubt,
		heavy:       len(k.Ticks) > 0,
		refocus:     k.Refocus,
		steady:      k.Steady,
	}
	if k.CentreDoubt > 0 {
		p.centreDoubt = k.CentreDoubt
	}
	if k.BendDoubt > 0 {
		p.bend = k.BendDoubt
	}
	if k.F35 > 0 {
		p.logF, p.logFDoubt, p.focalKnown = math.Log(FocalPixels(k.F35, k.Width, k.Height)), f35Doubt, true
	} else {
		p.logF, p.logFDoubt = math.Log(FocalPixels(noF35, k.Width, k.Height)), noF35Doubt
	}
	return p
}

// rows returns the priors as residuals in their own doubts.
func (p *prior) rows(l layout, u *unknowns, loose [][2]float64) (out []row) {
	one := func(at int, off, doubt float64) {
		out = append(out, row{off / doubt, []int{at}, []float64{1 / doubt}})
	}
	c := &u.cams[0]
	f := max(c.F, math.SmallestNonzeroFloat64)
	out = append(out, row{(math.Log(f) - p.logF) / p.logFDoubt, []int{0}, []float64{1 / (f * p.logFDoubt)}})
	one(1, c.Cx-p.cx, p.centreDoubt)
	one(2, c.Cy-p.cy, p.centreDoubt)
	one(3, c.K1, p.bend)
	one(4, c.K2, p.bend)
	for i := range l.scales {
		for k := range 2 {
			one(l.scale(i)+k, u.scale[i][k]-1, p.scaleDoubt*loose[i][k])
		}
	}
	for v := 1; l.moves && v < l.views; v++ {
		d := &u.cams[v]
		apart := func(i int, off, by, from, doubt float64) {
			out = append(out, row{off / doubt, []int{l.lens(0, i), l.lens(v, i)}, []float64{-from / doubt, by / doubt}})
		}
		apart(0, math.Log(max(d.F, math.SmallestNonzeroFloat64)/f), 1/d.F, 1/f, p.refocus)
		apart(1, d.Cx-c.Cx, 1, 1, p.steady)
		apart(2, d.Cy-c.Cy, 1, 1, p.steady)
	}
	if l.edges > 0 {
		at := l.ruler()
		lift, slope := u.ruler.lift()
		out = append(out, row{
			(u.ruler.height - rulerHeight - lift) / rulerHeightDoubt,
			[]int{at + 3, at + 4},
			[]float64{1 / rulerHeightDoubt, -slope / rulerHeightDoubt},
		})
		one(at+4, u.ruler.lean, leanDoubt)
		one(at+5, u.ruler.grow, rulerDoubt)
	}
	return out
}

// Beside a ruler the print is believed as a mixture of true mats and of ones printed
// to fit the page, and little: the ruler tells. Common practice; guesses until logged.
const (
	trueShare, trueDoubt     = 0.2, 0.75 * MatDoubt
	fittedShare, fittedDoubt = 1 - trueShare, 0.03
)

// loosened tells how much wider the prior of each scale is to be taken where the
// scale now stands. Alone the print is true to [MatDoubt]. Where a ruler tells, its
// prior p is the mixture, whose weight beside t²/2 is that of either part by how
// likely the print is of it, -p'/(x·p) (iteratively reweighted least squares:
// Holland & Welsch 1977, as for Huber's). A print that is off beyond doubt does not
// pull then: with a tail like Cauchy's it would raise the ruler by a third of a
// millimetre to look the truer, 0.07 % of all lengths.
func (p *prior) loosened(u *unknowns) [][2]float64 {
	out := make([][2]float64, len(u.scale))
	for i, s := range u.scale {
		for k := range 2 {
			out[i][k] = 1
			if p.heavy {
				out[i][k] = 1 / (p.scaleDoubt * math.Sqrt(mixed(s[k]-1)))
			}
		}
	}
	return out
}

// mixed is the mixture's weight at a misprint.
func mixed(x float64) float64 {
	normal := func(share, doubt float64) float64 { return share / doubt * math.Exp(-x*x/(2*doubt*doubt)) }
	a, b := normal(trueShare, trueDoubt), normal(fittedShare, fittedDoubt)
	return (a/(trueDoubt*trueDoubt) + b/(fittedDoubt*fittedDoubt)) / (a + b)
}
