package measure

import "gonum.org/v1/gonum/mat"

// descend fits by Levenberg and Marquardt's method (Marquardt, SIAM J. Appl. Math. 11
// (1963) 431-441), at most so many steps. The pose stays where held says so.
func (f *fitting) descend(steps int, held hold) bool {
	u := f.unknowns()
	damp := 1e-3
	a, b, cost := f.normals(&u)
	for range steps {
		x, ok := solveDamped(a, b, u.n, damp, held)
		if !ok {
			return false
		}
		next := *f
		next.axis, next.form = f.step(&u, x)
		// Most steps are taken, and what costs is where the rays touch: so the next
		// equations are made at once.
		a2, b2, after := next.normals(&u)
		if after <= cost {
			f.axis, f.form = next.axis, next.form
			if cost-after < 1e-4*(1+1e-3*cost) {
				return true
			}
			damp = max(damp/5, 1e-9)
			a, b, cost = a2, b2, after
			continue
		}
		if damp *= 8; damp > 1e8 {
			return true
		}
	}
	return true
}

// solveDamped solves the damped normal equations, unknowns of the pose left out
// where they are held.
func solveDamped(a, b []float64, n int, damp float64, held hold) ([]float64, bool) {
	m := mat.NewSymDense(n, nil)
	v := mat.NewVecDense(n, nil)
	for i := range n {
		v.SetVec(i, b[i])
		for j := i; j < n; j++ {
			m.SetSym(i, j, a[i*n+j])
		}
		m.SetSym(i, i, a[i*n+i]*(1+damp)+1e-12)
	}
	held.out(m)
	for i, stays := range held {
		if stays {
			v.SetVec(i, 0)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(m) {
		return nil, false
	}
	var x mat.VecDense
	if err := chol.SolveVecTo(&x, v); err != nil {
		return nil, false
	}
	return x.RawVector().Data, true
}

// step is axis and form moved by x, the form kept one that can be turned.
func (f *fitting) step(u *unknowns, x []float64) (axis, form) {
	a := f.axis.moved(f.frame(), [4]float64(x[:4]))
	g := f.form.clone()
	for i := range g.joints {
		j := &g.joints[i]
		if u.s[i] >= 0 {
			j.s += limit(x[u.s[i]], 2)
		}
		if u.r[i] >= 0 {
			j.r = max(j.r+limit(x[u.r[i]], 2), leastRadius)
		}
	}
	for i := range g.spans {
		if k := u.rise[i]; k >= 0 {
			g.spans[i].rise += limit(x[k], 2)
		}
	}
	g.order()
	return a, g
}

// leastRadius is the smallest radius of a joint that is not a tip, mm.
const leastRadius = 0.05

// hold says which of the pose's four unknowns stay: sideways, and up.
type hold [4]bool

var (
	holdNone    = hold{}
	holdHeights = hold{false, false, true, true}
	holdPose    = hold{true, true, true, true}
)

// out takes what is held out of normal equations.
func (h hold) out(m *mat.SymDense) {
	for i, stays := range h {
		if stays {
			for j := range m.SymmetricDim() {
				m.SetSym(i, j, 0)
			}
			m.SetSym(i, i, 1)
		}
	}
}
