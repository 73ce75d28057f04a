package measure

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"scalewright/craft/limb"
)

// togetherMM is over how many mm of the axis neighbouring edge points of one side are
// taken to err together: a printed line's end, a gleam, the border of a shadow.
const togetherMM = 3.0

// together is what residuals that stray side by side leave in doubt: the covariance
// A⁻¹·B·A⁻¹ of the unknowns, B the sum over stretches of edge of what each pulls by
// itself (Liang and Zeger, Biometrika 73 (1986) 13-22). Where neighbours err each for
// itself it is that of the fit; where a whole stretch lies off, as at a printed line, it
// is larger, and larger there alone. A ray that the fit gives up still pulls by cauchy
// standard deviations: who knows which side is right.
//
// Besides, two readings of the same step differ by what its model does not hold: a dark
// rim, a gleam. That errs one way over a stretch, and perhaps over all of the edge.
func (f *fitting) together(u *unknowns, cov *mat.SymDense) (stray, open *mat.SymDense) {
	type stretch struct {
		side limb.Side
		at   int
	}
	type pull struct{ stray, open []float64 }
	pulls := map[stretch]pull{}
	var order []stretch
	l := f.lineared(u)
	var row slopes
	for k := range f.rays {
		m, unit, side := l.ray(k, &row)
		if !m.ok {
			continue
		}
		key := stretch{side, int(math.Floor(m.at.s / togetherMM))}
		if _, seen := pulls[key]; !seen {
			pulls[key] = pull{make([]float64, u.n), make([]float64, u.n)}
			order = append(order, key)
		}
		w := f.rays[k].share * unit / independent
		x, o := limit(m.gap*unit, cauchy), f.rays[k].open/f.scale
		for i := range row.count {
			if j := row.idx[i]; j >= 0 {
				pulls[key].stray[j] += w * x * row.by[i]
				pulls[key].open[j] += w * o * row.by[i]
			}
		}
	}
	stray, open = mat.NewSymDense(u.n, nil), mat.NewSymDense(u.n, nil)
	all := mat.NewVecDense(u.n, nil)
	for _, key := range order {
		var x, o mat.VecDense
		x.MulVec(cov, mat.NewVecDense(u.n, pulls[key].stray))
		stray.SymRankOne(stray, 1, &x)
		o.MulVec(cov, mat.NewVecDense(u.n, pulls[key].open))
		open.SymRankOne(open, 1, &o)
		all.AddVec(all, &o)
	}
	open.SymRankOne(open, 1, all)
	return stray, open
}

// roughReach is how far from a station, mm, the edge is asked how rough it is, and
// roughSays how much of it the radius may be off by: what pulls the edge to and fro about
// the outline has pulled the outline too.
const (
	roughReach = 2.0
	roughSays  = 0.5
	roughMost  = 1.0 // mm
)

// roughness is how far rays pass from the form about each of n stations, stationStep
// apart, root mean square, mm.
func (f *fitting) roughness(n int) []float64 {
	_, at := f.residuals()
	lo := f.form.joints[0].s
	sum, count, out := make([]float64, n), make([]float64, n), make([]float64, n)
	for _, m := range at {
		if !m.ok {
			continue
		}
		g := limit(m.gap, roughMost)
		from, to := (m.at.s-roughReach-lo)/stationStep, (m.at.s+roughReach-lo)/stationStep
		for k := max(0, int(math.Ceil(from))); k < n && float64(k) <= to; k++ {
			sum[k], count[k] = sum[k]+g*g, count[k]+1
		}
	}
	for k := range out {
		out[k] = math.Sqrt(sum[k] / max(count[k], 1))
	}
	return out
}
