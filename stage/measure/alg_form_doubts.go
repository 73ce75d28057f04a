package measure

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// doubts takes what the fit says of height, slope, ends and, at every station, of the
// radius as it lies.
func (f *fitting) doubts(out *solution) bool {
	u := f.unknowns()
	a, _, _ := f.normals(&u)
	cov, ok := inverse(a, u.n, holdNone)
	if !ok {
		return false
	}
	g := f.frame()
	long := max(g.to-g.from, 1)
	cos := r3.Dot(g.raised, r3.Vec{Z: 1})
	out.uSlope = f.slopeDoubt(cov)
	t := (out.touch - g.from) / long
	out.uHeight = cos * math.Sqrt(max(0, (1-t)*(1-t)*cov.At(2, 2)+t*t*cov.At(3, 3)+2*t*(1-t)*cov.At(2, 3)))
	mm := mmPerPixel(f.view, f.axis)
	last := len(f.form.joints) - 1
	// Height and slope have a say of their own in all that follows.
	if cov, ok = inverse(a, u.n, holdHeights); !ok {
		return false
	}
	stray, open := f.together(&u, cov)
	end := func(i int) float64 {
		return math.Hypot(math.Sqrt(max(cov.At(i, i), stray.At(i, i), open.At(i, i))), edgeBias*mm)
	}
	out.lo.u, out.hi.u = end(u.s[0]), end(u.s[last])
	out.uForm = f.radiusDoubts(&u, cov)
	strayed, opened := f.radiusDoubts(&u, stray), f.radiusDoubts(&u, open)
	rough := f.roughness(len(out.uForm))
	for k := range out.uForm {
		out.uForm[k] = math.Hypot(max(out.uForm[k], strayed[k], opened[k]), roughSays*rough[k])
	}
	return true
}

// slopeDoubt is the standard uncertainty of the axis' slope: that of the difference of its
// two heights, over the length.
func (f *fitting) slopeDoubt(cov *mat.SymDense) float64 {
	g := f.frame()
	cos := r3.Dot(g.raised, r3.Vec{Z: 1})
	return cos * math.Sqrt(max(0, cov.At(2, 2)+cov.At(3, 3)-2*cov.At(2, 3))) / max(g.to-g.from, 1)
}

// inverse is the covariance that normal equations leave, that of what is held nought.
func inverse(a []float64, n int, held hold) (*mat.SymDense, bool) {
	m := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			m.SetSym(i, j, a[i*n+j])
		}
	}
	held.out(m)
	var chol mat.Cholesky
	var cov mat.SymDense
	if !chol.Factorize(m) || chol.InverseTo(&cov) != nil {
		return nil, false
	}
	for i, stays := range held {
		if stays {
			cov.SetSym(i, i, 0)
		}
	}
	return &cov, true
}

// radiusDoubts are the standard uncertainties of the form's radius at stations
// stationStep apart, by how it changes with each unknown.
func (f *fitting) radiusDoubts(u *unknowns, cov *mat.SymDense) []float64 {
	const h = 1e-5 // mm
	lo, hi := f.form.joints[0].s, f.form.joints[len(f.form.joints)-1].s
	n := int((hi-lo)/stationStep) + 2
	all := make([][]float64, u.n)
	base := make([]float64, n)
	read := func(g *form, k int) float64 {
		r, _ := g.at(max(lo, min(hi, lo+stationStep*float64(k))))
		return r
	}
	for k := range base {
		base[k] = read(&f.form, k)
	}
	for i := 4; i < u.n; i++ {
		g := f.form.clone()
		from, to := math.Inf(1), math.Inf(-1)
		near := func(j int) {
			from = min(from, g.joints[max(j-1, 0)].s)
			to = max(to, g.joints[min(j+1, len(g.joints)-1)].s)
		}
		for j := range g.joints {
			if u.s[j] == i {
				g.joints[j].s += h
				near(j)
			}
			if u.r[j] == i {
				g.joints[j].r += h
				near(j)
			}
		}
		for j := range g.spans {
			if u.rise[j] == i {
				g.spans[j].rise += h
				near(j)
				near(j + 1)
			}
		}
		all[i] = make([]float64, n)
		for k := max(0, int((from-lo)/stationStep)); k < n && lo+stationStep*float64(k) < to+stationStep; k++ {
			// At a step the change has no bound.
			all[i][k] = limit((read(&g, k)-base[k])/h, 2)
		}
	}
	out := make([]float64, n)
	for k := range out {
		v := 0.0
		for i := 4; i < u.n; i++ {
			if all[i][k] == 0 {
				continue
			}
			for j := 4; j < u.n; j++ {
				v += all[i][k] * all[j][k] * cov.At(i, j)
			}
		}
		out[k] = math.Sqrt(max(0, v))
	}
	return out
}
