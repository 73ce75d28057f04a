package camera

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Noise of a mark picked by hand, used as the prior of the estimated noise:
// under a loupe a crossing is picked to about half a pixel.
const markSigma = 0.5

// huberK is the bend of Huber's loss in standard deviations; 1.345 keeps 95 %
// efficiency on clean marks (Huber, Robust Statistics, 1981; constant
// tabulated by Holland & Welsch, Comm. Statist. A6 (1977) 813-827).
const huberK = 1.345

// Fit finds the camera that sees the marks, with all errors found in the marks
// typed (see the Err variables). Marks are not changed.
//
// The noise of the marks is estimated with the fit: its prior counts as one
// observation of half a pixel, so that few marks are not trusted beyond reason
// and many exact ones are.
func Fit(marks []Mark, known Known) (Fitted, error) {
	if err := checkMarks(marks); err != nil {
		return Fitted{}, err
	}
	prior := newPrior(known)
	start, err := startCamera(marks, prior)
	if err != nil {
		return Fitted{}, err
	}
	f := &fitter{marks: marks, prior: prior, cam: start, sigma: markSigma}
	for range 4 { // the noise settles in two or three rounds
		f.descend()
		f.sigma = f.noise()
	}
	f.descend()
	return f.result(known)
}

func checkMarks(marks []Mark) error {
	if len(marks) < 4 {
		return ErrTooFew
	}
	for i, m := range marks {
		if !isFinite(m.Px.X) || !isFinite(m.Px.Y) || !isFinite(m.Mm.X) || !isFinite(m.Mm.Y) {
			return ErrNotFinite
		}
		for _, n := range marks[:i] {
			if r2.Norm(r2.Sub(m.Px, n.Px)) < 1 || r2.Norm(r2.Sub(m.Mm, n.Mm)) < 1e-3 {
				return ErrCoincident
			}
		}
	}
	if spread(marks, func(m Mark) r2.Vec { return m.Mm }) < minSpread ||
		spread(marks, func(m Mark) r2.Vec { return m.Px }) < minSpread {
		return ErrOnALine
	}
	return nil
}

func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// minSpread is the least ratio of the short to the long axis of the marks'
// scatter. At 0.02 a row of 400 mm is 8 mm wide: clicks of half a pixel then
// turn the mat by degrees and the answer is worth nothing.
const minSpread = 0.02

func spread(marks []Mark, at func(Mark) r2.Vec) float64 {
	var mean r2.Vec
	for _, m := range marks {
		mean = r2.Add(mean, at(m))
	}
	mean = r2.Scale(1/float64(len(marks)), mean)
	var xx, xy, yy float64
	for _, m := range marks {
		d := r2.Sub(at(m), mean)
		xx, xy, yy = xx+d.X*d.X, xy+d.X*d.Y, yy+d.Y*d.Y
	}
	half, root := (xx+yy)/2, math.Hypot((xx-yy)/2, xy)
	return math.Sqrt(max(0, half-root) / (half + root))
}

// prior holds the expected value and standard uncertainty of F (as a
// logarithm), Cx, Cy, K1 and K2.
type prior struct {
	logF, logFDoubt     float64
	cx, cy, centreDoubt float64
	focalKnown          bool
}

func newPrior(k Known) prior {
	p := prior{
		cx:          float64(k.Width-1) / 2,
		cy:          float64(k.Height-1) / 2,
		centreDoubt: centreDoubt * float64(max(k.Width, k.Height)),
	}
	if k.F35 > 0 {
		p.logF, p.logFDoubt, p.focalKnown = math.Log(FocalPixels(k.F35, k.Width, k.Height)), f35Doubt, true
	} else {
		p.logF, p.logFDoubt = math.Log(FocalPixels(noF35, k.Width, k.Height)), noF35Doubt
	}
	return p
}

func startCamera(marks []Mark, p prior) (Camera, error) {
	mm, px := make([]r2.Vec, len(marks)), make([]r2.Vec, len(marks))
	for i, m := range marks {
		mm[i], px[i] = m.Mm, m.Px
	}
	h, ok := fitHomography(mm, px)
	if !ok {
		return Camera{}, ErrOnALine
	}
	f := math.Exp(p.logF)
	if !p.focalKnown {
		// The marks' own word, where it is within reason of the prior.
		if g, ok := h.focal(p.cx, p.cy); ok && math.Abs(math.Log(g)-p.logF) < 2*p.logFDoubt {
			f = g
		}
	}
	cam, ok := h.pose(f, p.cx, p.cy)
	if !ok {
		return Camera{}, ErrNoSolution
	}
	return cam, nil
}

// fitter holds one fit under way.
type fitter struct {
	marks []Mark
	prior prior
	cam   Camera
	sigma float64
}

// residuals returns the weighted residuals of cam: two a mark, under Huber's
// loss as square roots of its weights, then five of the priors.
func (f *fitter) residuals(cam *Camera, weights []float64, out []float64) {
	for i, m := range f.marks {
		px, ok := cam.Project(r3.Vec{X: m.Mm.X, Y: m.Mm.Y})
		if !ok {
			px = r2.Vec{X: math.Inf(1), Y: math.Inf(1)}
		}
		w := weights[i] / f.sigma
		out[2*i], out[2*i+1] = (px.X-m.Px.X)*w, (px.Y-m.Px.Y)*w
	}
	n := 2 * len(f.marks)
	out[n] = (math.Log(max(cam.F, 1e-9)) - f.prior.logF) / f.prior.logFDoubt
	out[n+1] = (cam.Cx - f.prior.cx) / f.prior.centreDoubt
	out[n+2] = (cam.Cy - f.prior.cy) / f.prior.centreDoubt
	out[n+3] = cam.K1 / k1Doubt
	out[n+4] = cam.K2 / k2Doubt
}

// huberWeights returns the square root of Huber's weight of each mark.
func (f *fitter) huberWeights() []float64 {
	w := make([]float64, len(f.marks))
	for i, r := range f.offsets() {
		w[i] = 1
		if e := r / (f.sigma * math.Sqrt2); e > huberK {
			w[i] = math.Sqrt(huberK / e)
		}
	}
	return w
}

func (f *fitter) offsets() []float64 {
	off := make([]float64, len(f.marks))
	for i, m := range f.marks {
		px, ok := f.cam.Project(r3.Vec{X: m.Mm.X, Y: m.Mm.Y})
		if !ok {
			off[i] = math.Inf(1)
			continue
		}
		off[i] = r2.Norm(r2.Sub(px, m.Px))
	}
	return off
}

// steps of the numerical derivative: about 1e-3 px of movement each.
func (f *fitter) steps() [Params]float64 {
	h := f.cam.C.Z
	px := 1e-3
	return [Params]float64{px, px, px, 1e-6, 1e-6, px / f.cam.F, px / f.cam.F, px / f.cam.F, px * h / f.cam.F, px * h / f.cam.F, px * h / f.cam.F}
}

// normal returns JᵀWJ and JᵀWr at the present camera.
func (f *fitter) normal(weights []float64) (jtj *mat.SymDense, jtr *mat.VecDense, cost float64) {
	n := 2*len(f.marks) + 5
	r, lo, hi := make([]float64, n), make([]float64, n), make([]float64, n)
	f.residuals(&f.cam, weights, r)
	jac := mat.NewDense(n, Params, nil)
	for p, h := range f.steps() {
		var d [Params]float64
		d[p] = h
		up := f.cam.Nudge(d)
		d[p] = -h
		down := f.cam.Nudge(d)
		f.residuals(&up, weights, hi)
		f.residuals(&down, weights, lo)
		for i := range n {
			jac.Set(i, p, (hi[i]-lo[i])/(2*h))
		}
	}
	jtj = mat.NewSymDense(Params, nil)
	jtj.SymOuterK(1, jac.T())
	jtr = mat.NewVecDense(Params, nil)
	jtr.MulVec(jac.T(), mat.NewVecDense(n, r))
	for _, v := range r {
		cost += v * v
	}
	return jtj, jtr, cost
}

// descend is Levenberg-Marquardt with Marquardt's diagonal scaling, the
// Huber weights renewed at each accepted step (iteratively reweighted least
// squares). It counts steps, not seconds.
func (f *fitter) descend() {
	lambda := 1e-3
	for range 60 {
		w := f.huberWeights()
		jtj, jtr, cost := f.normal(w)
		moved := false
		for range 12 {
			step, ok := solveDamped(jtj, jtr, lambda)
			if !ok {
				lambda *= 10
				continue
			}
			next := f.cam.Nudge(step)
			r := make([]float64, 2*len(f.marks)+5)
			f.residuals(&next, w, r)
			c := 0.0
			for _, v := range r {
				c += v * v
			}
			if c < cost && next.F > 0 && next.C.Z > 0 {
				f.cam, moved = next, true
				lambda = max(lambda/10, 1e-12)
				if cost-c < 1e-12*cost {
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

func solveDamped(jtj *mat.SymDense, jtr *mat.VecDense, lambda float64) (step [Params]float64, ok bool) {
	a := mat.NewSymDense(Params, nil)
	a.CopySym(jtj)
	for i := range Params {
		a.SetSym(i, i, jtj.At(i, i)*(1+lambda))
	}
	var ch mat.Cholesky
	if !ch.Factorize(a) {
		return step, false
	}
	var x mat.VecDense
	if err := ch.SolveVecTo(&x, jtr); err != nil {
		return step, false
	}
	for i := range step {
		step[i] = -x.AtVec(i)
	}
	return step, true
}

// noise estimates the standard deviation of a coordinate of a mark from the
// residuals under Huber's weights, joined with one prior observation. Six
// degrees of freedom go to the pose and the marks' share of the others, counted
// as eight in all, the number that a homography has.
func (f *fitter) noise() float64 {
	w := f.huberWeights()
	ss := 0.0
	for i, r := range f.offsets() {
		ss += w[i] * w[i] * r * r
	}
	free := max(0, 2*len(f.marks)-8)
	return math.Sqrt((markSigma*markSigma + ss) / (1 + float64(free)))
}

func (f *fitter) result(known Known) (Fitted, error) {
	out := Fitted{Camera: f.cam, Sigma: f.sigma, Off: f.offsets(), FocalKnown: known.F35 > 0}
	ss := 0.0
	for _, r := range out.Off {
		ss += r * r
	}
	out.RMS = math.Sqrt(ss / float64(len(f.marks)))
	jtj, _, _ := f.normal(f.huberWeights())
	// Inverted with the parameters scaled to one, since radians, pixels and
	// millimetres differ by 10⁶.
	scale := make([]float64, Params)
	for i := range scale {
		scale[i] = 1 / math.Sqrt(jtj.At(i, i))
	}
	s := mat.NewSymDense(Params, nil)
	for i := range Params {
		for j := i; j < Params; j++ {
			s.SetSym(i, j, jtj.At(i, j)*scale[i]*scale[j])
		}
	}
	var eig mat.EigenSym
	if !isFinite(out.RMS) || !eig.Factorize(s, true) {
		return Fitted{}, ErrNoSolution
	}
	var v mat.Dense
	eig.VectorsTo(&v)
	for k, l := range eig.Values(nil) {
		if l <= 0 {
			return Fitted{}, ErrNoSolution
		}
		var m [Params]float64
		for i := range Params {
			m[i] = v.At(i, k) * scale[i] / math.Sqrt(l)
		}
		out.modes = append(out.modes, m)
		for i := range Params {
			for j := range Params {
				out.Cov[i][j] += m[i] * m[j]
			}
		}
	}
	return out, nil
}
