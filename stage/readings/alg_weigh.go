package readings

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// observation is a reading as the least squares sees it: what each unknown does to
// it, what the trace says there, by how much the reading lies above that, and its own
// variance.
type observation struct {
	h      []float64
	seen   float64
	off    float64
	square float64
}

// posterior is what is known of the unknowns once some observations are taken in.
type posterior struct {
	x    []float64
	w    *mat.Dense // Hᵀ·L⁻ᵀ, S = L·Lᵀ: the covariance is I - w·wᵀ
	root *mat.Dense // γ: the symmetric root of it is I - w·γ·wᵀ
	chi  float64    // dᵀ·S⁻¹·d
}

// weigh takes observations in. With none, nothing is known but what was before.
func weigh(obs []observation, unknowns int) posterior {
	p := posterior{x: make([]float64, unknowns)}
	m := len(obs)
	if m == 0 {
		return p
	}
	h := mat.NewDense(m, unknowns, nil)
	d := mat.NewVecDense(m, nil)
	for i, o := range obs {
		h.SetRow(i, o.h)
		d.SetVec(i, o.off)
	}
	var full mat.Dense
	full.Mul(h, h.T())
	s := mat.NewSymDense(m, nil)
	for i := range m {
		for j := i; j < m; j++ {
			s.SetSym(i, j, full.At(i, j))
		}
		s.SetSym(i, i, full.At(i, i)+obs[i].square)
	}
	var chol mat.Cholesky
	if !chol.Factorize(s) {
		panic("readings: internal error: observations without a variance of their own")
	}
	var y mat.VecDense
	if err := chol.SolveVecTo(&y, d); err != nil {
		return p // worse conditioned than its figures bear: nothing is learnt
	}
	p.chi = mat.Dot(d, &y)
	var x mat.VecDense
	x.MulVec(h.T(), &y)
	copy(p.x, x.RawVector().Data)
	var l mat.TriDense
	chol.LTo(&l)
	var wt mat.Dense
	if err := wt.Solve(&l, h); err != nil {
		return posterior{x: make([]float64, unknowns)}
	}
	p.w = mat.DenseCopyOf(wt.T())
	p.root = rootOf(&wt)
	return p
}

// rootOf is γ with (I - w·γ·wᵀ)² = I - w·wᵀ: from the eigenvalues δ of wᵀ·w, all
// below 1, γ = V·diag((1 - √(1-δ))/δ)·Vᵀ.
func rootOf(wt *mat.Dense) *mat.Dense {
	var g, out mat.Dense
	g.Mul(wt, wt.T())
	values, v := eigen(&g)
	gamma := mat.NewDiagDense(len(values), nil)
	for i, delta := range values {
		// (1 - √(1-δ))/δ = 1/(1 + √(1-δ)), which does not lose its figures near 0.
		gamma.SetDiag(i, 1/(1+math.Sqrt(1-min(1, max(0, delta)))))
	}
	out.Product(v, gamma, v.T())
	return &out
}

// eigen are the eigenvalues of a small symmetric matrix and its eigenvectors as
// columns, by Jacobi's rotations (Golub & Van Loan, Matrix Computations, 4th ed.,
// 8.5). Gonum's tridiagonal way was tried first and gave vectors that were none where
// a matrix of rank one held elements of very different size.
func eigen(g *mat.Dense) ([]float64, *mat.Dense) {
	n, _ := g.Dims()
	a := mat.DenseCopyOf(g)
	v := mat.NewDense(n, n, nil)
	for i := range n {
		v.Set(i, i, 1)
	}
	const sweeps = 30 // each squares what is left off the diagonal; six or so do
	for range sweeps {
		left := 0.0
		for i := range n {
			for k := i + 1; k < n; k++ {
				left += a.At(i, k) * a.At(i, k)
				rotate(a, v, i, k)
			}
		}
		if left == 0 {
			break
		}
	}
	values := make([]float64, n)
	for i := range n {
		values[i] = a.At(i, i)
	}
	return values, v
}

// rotate turns the plane of i and k so that the element between them is nought.
func rotate(a, v *mat.Dense, i, k int) {
	if a.At(i, k) == 0 {
		return
	}
	theta := (a.At(k, k) - a.At(i, i)) / (2 * a.At(i, k))
	t := 1 / (math.Abs(theta) + math.Hypot(theta, 1))
	if theta < 0 {
		t = -t
	}
	c := 1 / math.Hypot(t, 1)
	s := t * c
	n, _ := a.Dims()
	for j := range n {
		p, q := a.At(j, i), a.At(j, k)
		a.Set(j, i, float64(c*p)-float64(s*q))
		a.Set(j, k, float64(s*p)+float64(c*q))
		p, q = v.At(j, i), v.At(j, k)
		v.Set(j, i, float64(c*p)-float64(s*q))
		v.Set(j, k, float64(s*p)+float64(c*q))
	}
	for j := range n {
		p, q := a.At(i, j), a.At(k, j)
		a.Set(i, j, float64(c*p)-float64(s*q))
		a.Set(k, j, float64(s*p)+float64(c*q))
	}
	a.Set(i, k, 0)
	a.Set(k, i, 0)
}

// variance of a sum of unknowns.
func (p posterior) variance(h []float64) float64 {
	v := dot(h, h)
	if p.w != nil {
		for _, x := range p.through(h) {
			v -= x * x
		}
	}
	return max(0, v)
}

// through is wᵀ·h.
func (p posterior) through(h []float64) []float64 {
	q, m := p.w.Dims()
	out := make([]float64, m)
	for j := range q {
		if h[j] == 0 {
			continue
		}
		for i := range m {
			out[i] += float64(p.w.At(j, i) * h[j])
		}
	}
	return out
}

// shrunk are the contributions of the unknowns to a value, each under its own name,
// once the observations are taken in.
func (p posterior) shrunk(h []float64) []float64 {
	out := append([]float64(nil), h...)
	if p.w == nil {
		return out
	}
	t := p.through(h)
	q, m := p.w.Dims()
	g := make([]float64, m)
	for i := range m {
		for k := range m {
			g[i] += float64(p.root.At(i, k) * t[k])
		}
	}
	for j := range q {
		for i := range m {
			out[j] -= float64(p.w.At(j, i) * g[i])
		}
	}
	return out
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += float64(a[i] * b[i])
	}
	return sum
}
