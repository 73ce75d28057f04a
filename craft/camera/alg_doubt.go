package camera

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// doubts holds what a fit leaves open: the covariance of all unknowns.
type doubts struct {
	cov *mat.SymDense
}

// doubtsOf inverts the normal matrix, its unknowns scaled to one since radians,
// pixels and millimetres differ by 10⁶.
func doubtsOf(info *mat.SymDense) (doubts, bool) {
	inv, ok := inverse(info)
	return doubts{inv}, ok
}

func inverse(a *mat.SymDense) (*mat.SymDense, bool) {
	s, scale := unitDiagonal(a)
	var ch mat.Cholesky
	if !ch.Factorize(s) {
		return nil, false
	}
	var inv mat.SymDense
	if err := ch.InverseTo(&inv); err != nil {
		return nil, false
	}
	n := a.SymmetricDim()
	for i := range n {
		for j := i; j < n; j++ {
			inv.SetSym(i, j, inv.At(i, j)*scale[i]*scale[j])
		}
	}
	return &inv, true
}

// unitDiagonal scales a matrix so that its diagonal is one.
func unitDiagonal(a *mat.SymDense) (s *mat.SymDense, scale []float64) {
	n := a.SymmetricDim()
	scale = make([]float64, n)
	for i := range n {
		scale[i] = 1 / math.Sqrt(a.At(i, i))
	}
	s = mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			s.SetSym(i, j, a.At(i, j)*scale[i]*scale[j])
		}
	}
	return s, scale
}

// of is the standard uncertainty of one unknown.
func (d doubts) of(i int) float64 { return math.Sqrt(d.cov.At(i, i)) }

// modes returns the independent directions of a camera's covariance with all
// other unknowns taken up, one standard deviation long, and the covariance that
// they add up to.
func (d doubts) modes(l layout, view int) (modes [][Params]float64, cov [Params][Params]float64, ok bool) {
	at := make([]int, Params)
	for i := range at {
		if i < lensParams {
			at[i] = l.lens(view, i)
		} else {
			at[i] = l.pose(view) + i - lensParams
		}
	}
	own := mat.NewSymDense(Params, nil)
	for i, a := range at {
		for j := i; j < Params; j++ {
			own.SetSym(i, j, d.cov.At(a, at[j]))
		}
	}
	info, ok := inverse(own)
	if !ok {
		return nil, cov, false
	}
	s, scale := unitDiagonal(info)
	var eig mat.EigenSym
	if !eig.Factorize(s, true) {
		return nil, cov, false
	}
	var v mat.Dense
	eig.VectorsTo(&v)
	for k, e := range eig.Values(nil) {
		if !(e > 0) {
			return nil, cov, false
		}
		var m [Params]float64
		for i := range Params {
			m[i] = v.At(i, k) * scale[i] / math.Sqrt(e)
		}
		modes = append(modes, m)
		for i := range Params {
			for j := range Params {
				cov[i][j] += m[i] * m[j]
			}
		}
	}
	return modes, cov, true
}
