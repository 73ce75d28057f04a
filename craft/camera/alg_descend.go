package camera

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"scalewright/craft/cores"
)

// fitter holds one fit under way.
type fitter struct {
	layout

	views [][]Mark
	ticks []Tick
	edge  []int // of each tick, from 0
	prior prior

	at    unknowns
	sigma []float64  // of a coordinate of a mark, a photograph
	tick  [2]float64 // of a tick along the ruler and across
	least float64    // what sigma is expected to be
	bend  float64    // of Huber's loss, in sigmas
}

// weights are the square roots of Huber's weights over sigma, and the width of
// the scales' priors.
type weights struct {
	marks [][]float64
	ticks [][2]float64
	loose [][2]float64
}

// weigh sets Huber's weights by the residuals at the present place.
func (f *fitter) weigh() weights {
	w := weights{marks: make([][]float64, len(f.views)), ticks: make([][2]float64, len(f.ticks)), loose: f.prior.loosened(&f.at)}
	for v, off := range f.offMarks() {
		w.marks[v] = make([]float64, len(off))
		for i, r := range off {
			w.marks[v][i] = f.huber(r/(f.sigma[v]*math.Sqrt2)) / f.sigma[v]
		}
	}
	for i, r := range f.offTicks() {
		for k := range 2 {
			w.ticks[i][k] = f.huber(math.Abs(r[k])/f.tick[k]) / f.tick[k]
		}
	}
	return w
}

// huber is the square root of Huber's weight at a distance of e standard
// deviations.
func (f *fitter) huber(e float64) float64 {
	if e > f.bend {
		return math.Sqrt(f.bend / e)
	}
	return 1
}

// offMarks is the length of each mark's residual, pixels.
func (f *fitter) offMarks() [][]float64 {
	out := make([][]float64, len(f.views))
	for v, marks := range f.views {
		out[v] = make([]float64, len(marks))
		for i := range marks {
			out[v][i] = math.Hypot(f.at.miss(v, &marks[i]))
		}
	}
	return out
}

// offTicks is each tick's residual along the ruler and across, pixels.
func (f *fitter) offTicks() [][2]float64 {
	out := make([][2]float64, len(f.ticks))
	var rows [2]row
	for i, t := range f.ticks {
		f.seeTick(&f.at, t, f.edge[i], &rows)
		out[i] = [2]float64{rows[0].r, rows[1].r}
	}
	return out
}

// eachOther calls do for every weighted residual but the marks'.
func (f *fitter) eachOther(u *unknowns, w weights, do func(r *row, weight float64)) {
	var rows [2]row
	for i, t := range f.ticks {
		f.seeTick(u, t, f.edge[i], &rows)
		do(&rows[0], w.ticks[i][0])
		do(&rows[1], w.ticks[i][1])
	}
	own := f.prior.rows(f.layout, u, w.loose)
	for i := range own {
		do(&own[i], 1)
	}
}

func (f *fitter) cost(u *unknowns, w weights) (sum float64) {
	for v, marks := range f.views {
		for i := range marks {
			x, y := u.miss(v, &marks[i])
			sum += w.marks[v][i] * w.marks[v][i] * (x*x + y*y)
		}
	}
	f.eachOther(u, w, func(r *row, weight float64) { sum += weight * weight * r.r * r.r })
	return sum
}

// sums are JᵀWJ, its lower half, JᵀWr and the cost.
type sums struct {
	n    int
	a, b []float64
	cost float64
}

func newSums(n int) *sums { return &sums{n: n, a: make([]float64, n*n), b: make([]float64, n)} }

func (s *sums) take(r *row, weight float64) {
	ww := weight * weight
	s.cost += ww * r.r * r.r
	for i, at := range r.at {
		g := ww * r.by[i]
		s.b[at] += g * r.r
		for j, to := range r.at[:i+1] {
			s.a[max(at, to)*s.n+min(at, to)] += g * r.by[j]
		}
	}
}

// together is how many marks are summed at once: the same on any machine, so that the last
// digit is the same.
const together = 128

// ofMarks sums over the marks of a view.
func (f *fitter) ofMarks(view int, weights []float64, into *sums) {
	marks := f.views[view]
	parts := make([]*sums, (len(marks)+together-1)/together)
	cores.Each(len(parts), func(k int) {
		s := newSums(into.n)
		var rows [2]row
		for i := k * together; i < min((k+1)*together, len(marks)); i++ {
			f.seeMark(&f.at, view, marks[i], &rows)
			s.take(&rows[0], weights[i])
			s.take(&rows[1], weights[i])
		}
		parts[k] = s
	})
	for _, s := range parts {
		floats.Add(into.a, s.a)
		floats.Add(into.b, s.b)
		into.cost += s.cost
	}
}

// normal returns JᵀWJ and JᵀWr at the present place.
func (f *fitter) normal(w weights) (jtj *mat.SymDense, jtr *mat.VecDense, cost float64) {
	n := f.size()
	s := newSums(n)
	for v := range f.views {
		f.ofMarks(v, w.marks[v], s)
	}
	f.eachOther(&f.at, w, s.take)
	for i := range n {
		for j := range i {
			s.a[j*n+i] = s.a[i*n+j]
		}
	}
	return mat.NewSymDense(n, s.a), mat.NewVecDense(n, s.b), s.cost
}

// descend is Levenberg-Marquardt with Marquardt's diagonal scaling, the
// Huber weights renewed at each accepted step (iteratively reweighted least
// squares), until a step gains less than this share of the cost. It counts steps, not
// seconds.
func (f *fitter) descend(gain float64) {
	lambda := 1e-3
	for range 60 {
		w := f.weigh()
		jtj, jtr, cost := f.normal(w)
		moved := false
		for range 12 {
			step, ok := solveDamped(jtj, jtr, lambda)
			if !ok {
				lambda *= 10
				continue
			}
			next := f.moved(&f.at, step)
			if c := f.cost(&next, w); c < cost && next.sound() {
				f.at, moved = next, true
				lambda = max(lambda/10, 1e-12)
				if cost-c < gain*cost {
					return
				}
				break
			}
			lambda *= 10
		}
		if !moved {
			return
		}
	}
}

// solveDamped solves the normal equations, damped. Pixels, millimetres and radians go side
// by side there: scaled to a diagonal of one they can be solved; unscaled, rounding would be
// feared at the least damping.
func solveDamped(jtj *mat.SymDense, jtr *mat.VecDense, lambda float64) (step []float64, ok bool) {
	a, scale := unitDiagonal(jtj)
	n := jtr.Len()
	b := mat.NewVecDense(n, nil)
	for i := range n {
		a.SetSym(i, i, 1+lambda)
		b.SetVec(i, scale[i]*jtr.AtVec(i))
	}
	var ch mat.Cholesky
	if !ch.Factorize(a) {
		return nil, false
	}
	var x mat.VecDense
	if err := ch.SolveVecTo(&x, b); err != nil {
		return nil, false
	}
	step = make([]float64, n)
	for i := range step {
		step[i] = -scale[i] * x.AtVec(i)
	}
	return step, true
}

// left is what Huber's weights leave of the squares of normal noise, of one
// coordinate alone and of two weighed together: ∫ w²e² over the distribution, in
// closed form. Without it the noise of many clean marks would come out 7 % too
// small.
func left(bend float64) (one, two float64) {
	return math.Erf(bend / math.Sqrt2), 1 - math.Exp(-bend*bend) + bend*math.Sqrt(math.Pi)/2*math.Erfc(bend)
}

// settle estimates the noise from the residuals under Huber's weights, joined
// with one prior observation. Of the marks of one photograph six degrees of
// freedom go to the pose and their share to the others, counted as eight in all,
// the number that a homography has; of the ticks three each way.
func (f *fitter) settle() {
	one, two := left(f.bend)
	for v, off := range f.offMarks() {
		ss := 0.0
		for _, r := range off {
			h := f.huber(r / (f.sigma[v] * math.Sqrt2))
			ss += h * h * r * r
		}
		free := max(0, 2*len(off)-8)
		f.sigma[v] = math.Sqrt((f.least*f.least + ss/two) / (1 + float64(free)))
	}
	if len(f.ticks) == 0 {
		return
	}
	var ss [2]float64
	for _, r := range f.offTicks() {
		for k := range 2 {
			h := f.huber(math.Abs(r[k]) / f.tick[k])
			ss[k] += h * h * r[k] * r[k]
		}
	}
	free := float64(max(0, len(f.ticks)-3))
	for k := range 2 {
		f.tick[k] = math.Sqrt((f.least*f.least + ss[k]/one) / (1 + free))
	}
}
