package camera

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
)

// Marks of one neighbourhood err together: a shadow, the rim of the lens, a mat
// that does not lie flat move them by a twentieth of a pixel one way. A thousand
// of them, taken as independent, would then be believed many times too much.
//
// So what is left of them is asked how it lies over the picture. Of independent
// residuals any smooth surface takes up as much as it has coefficients, times
// the variance; where they err together smooth surfaces take up more, and the
// camera's parameters, which move the picture as smoothly, with them. It is the
// excess that counts (for sums over time: the spectral density at frequency nought,
// Priestley, Spectral Analysis and Time Series, 1981, section 5.3).
const (
	// waveDegree of the polynomials: waves of half the picture and longer.
	waveDegree = 4
	waveTerms  = (waveDegree + 1) * (waveDegree + 2) / 2
	// common is what marks of one neighbourhood share at least, pixels, however quiet
	// the residuals are: what goes with the camera's own parameters does not show in
	// them. neighbourhoods is how many a picture has. Common practice; a guess until
	// logged.
	common         = 0.01
	neighbourhoods = 24
	// waveMarks is the fewest marks by which so many terms say something.
	waveMarks = 6 * waveTerms
)

// together is by how much the variance of a photograph's marks over long waves
// exceeds that of independent ones, at least by what is common to neighbours.
func (f *fitter) together(view int) float64 {
	marks := f.views[view]
	if len(marks) < waveMarks {
		return 1
	}
	low, high := marks[0].Px, marks[0].Px
	for _, m := range marks {
		low = r2.Vec{X: min(low.X, m.Px.X), Y: min(low.Y, m.Px.Y)}
		high = r2.Vec{X: max(high.X, m.Px.X), Y: max(high.Y, m.Px.Y)}
	}
	a := make([]float64, waveTerms*waveTerms)
	b := [2][]float64{make([]float64, waveTerms), make([]float64, waveTerms)}
	squares := 0.0
	for i := range marks {
		m := &marks[i]
		off := pair{}
		off[0], off[1] = f.at.miss(view, m)
		h := f.huber(math.Hypot(off[0], off[1]) / (f.sigma[view] * math.Sqrt2))
		terms := waves(2*(m.Px.X-low.X)/(high.X-low.X)-1, 2*(m.Px.Y-low.Y)/(high.Y-low.Y)-1)
		for i, t := range terms {
			for j, u := range terms {
				a[i*waveTerms+j] += t * u
			}
			for k := range b {
				b[k][i] += t * h * h * off[k]
			}
		}
		squares += h * h * h * h * (off[0]*off[0] + off[1]*off[1])
	}
	var ch mat.Cholesky
	if !ch.Factorize(mat.NewSymDense(waveTerms, a)) {
		return 1
	}
	smooth := 0.0
	for k := range b {
		rhs := mat.NewVecDense(waveTerms, b[k])
		var x mat.VecDense
		if err := ch.SolveVecTo(&x, rhs); err != nil {
			return 1
		}
		smooth += mat.Dot(&x, rhs)
	}
	alone := (squares - smooth) / float64(2*(len(marks)-waveTerms))
	if !(alone > 0) {
		return 1
	}
	least := common / f.sigma[view]
	return max(1+least*least*float64(len(marks))/neighbourhoods, smooth/alone/(2*waveTerms-Params))
}

// waves are the products of Legendre's polynomials of x and y up to the degree.
func waves(x, y float64) (out [waveTerms]float64) {
	px, py := legendre(x), legendre(y)
	n := 0
	for i := range px {
		for j := range py[:waveDegree+1-i] {
			out[n] = px[i] * py[j]
			n++
		}
	}
	return out
}

func legendre(x float64) (p [waveDegree + 1]float64) {
	p[0], p[1] = 1, x
	for n := 1; n < waveDegree; n++ {
		p[n+1] = (float64(2*n+1)*x*p[n] - float64(n)*p[n-1]) / float64(n+1)
	}
	return p
}
