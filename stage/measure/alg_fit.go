package measure

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/cores"
	"scalewright/craft/limb"
)

// fitting is a form and an axis under way, and the rays that they are fitted to.
type fitting struct {
	view
	axis  axis
	form  form
	rays  []ray
	rests []touching
	slope pull
	home  form // what joints that nothing tells are held near

	scale float64 // of residuals, in their standard deviations

	passes []limb.Pass // of the rays, where the axis stays as it is
	prof   []station   // the profile as it was read
	reach  reachOf     // within which the ends lie
	again  bool        // fitted again by a displaced camera or axis
	fixed  [2]bool     // the first and last joint stay
	narrow [2]bool     // their radius stays
	ruin   float64     // a cost past which a first step is the last; 0: there is none
}

// pass is how a ray passes the axis.
func (f *fitting) pass(k int) limb.Pass {
	if f.passes != nil {
		return f.passes[k]
	}
	return limb.PassOf(f.axis.p, f.axis.u, f.cam.C, f.rays[k].d)
}

// ray is the ray of an edge point.
type ray struct {
	d     r3.Vec
	sharp float64 // its sureness: 1/σ for each mm, times the depth
	share float64 // of edge points for which it stands
	open  float64 // what readings of its edge leave open, standard deviations outwards
	i     int     // of its edge point
}

// touching is a place of the body that touches the mat.
type touching struct {
	at    joint
	u     float64 // mm
	taken float64 // further doubt of a reach that was taken, not seen, mm
}

// pull holds a slope to what is known of it, radians; u 0: nothing is.
type pull struct{ to, u float64 }

// cauchy is the residual, in standard deviations, past which an edge point loses its say.
const cauchy = 3.0

// look takes the rays of the points that count. An edge much weaker than the rest is
// left out: it is the border of a shadow or of a gleam, and off by more than it says.
func (f *fitting) look(skip []bool) {
	var all []float64
	for i, e := range f.edge {
		if e.good && !skip[i] {
			all = append(all, e.sigma)
		}
	}
	if len(all) == 0 {
		return
	}
	f.rays = nil
	weak := weakEdge * max(median(all), edgeFloor)
	z := r3.Vec{X: f.cam.R[2][0], Y: f.cam.R[2][1], Z: f.cam.R[2][2]}
	for i, e := range f.edge {
		if !e.good || skip[i] || e.sigma > weak {
			continue
		}
		d := f.sight[i].d
		u := math.Hypot(e.sigma, edgeFit)
		f.rays = append(f.rays, ray{d, f.cam.F / r3.Dot(d, z) / u, 1, e.open / u, i})
	}
	if f.scale == 0 {
		f.scale = 1
	}
}

// weakEdge is how many times as unsure as most an edge point may be.
const weakEdge = 6.0

// edgeFit is the least standard deviation of an edge point, pixels, in a fit.
const edgeFit = 0.1

// poseStep is the step by which the pose's derivatives are taken, mm.
const poseStep = 1e-4

// frame is how the axis may move: sideways and up at two of its places.
type frame struct {
	from, to     float64 // stations
	side, raised r3.Vec
}

func (f *fitting) frame() frame {
	n := len(f.form.joints)
	side := r3.Unit(r3.Cross(f.axis.u, r3.Sub(f.cam.C, f.axis.p)))
	return frame{f.form.joints[0].s, f.form.joints[n-1].s, side, r3.Cross(side, f.axis.u)}
}

// moved is the axis with its two places displaced: sideways, then up.
func (a axis) moved(g frame, d [4]float64) axis {
	p := r3.Add(a.p, r3.Scale(g.from, a.u))
	q := r3.Add(a.p, r3.Scale(g.to, a.u))
	p = r3.Add(p, r3.Add(r3.Scale(d[0], g.side), r3.Scale(d[2], g.raised)))
	q = r3.Add(q, r3.Add(r3.Scale(d[1], g.side), r3.Scale(d[3], g.raised)))
	u := r3.Unit(r3.Sub(q, p))
	return axis{r3.Sub(p, r3.Scale(g.from, u)), u}
}

// unknowns numbers what is fitted: the pose's four, then stations, radii and rises.
type unknowns struct {
	s, r, rise []int // -1: not free
	n          int
}

func (f *fitting) unknowns() (u unknowns) {
	u.n = 4
	last := len(f.form.joints) - 1
	for i, j := range f.form.joints {
		if i == 0 && f.fixed[0] || i == last && f.fixed[1] {
			u.s, u.r = append(u.s, -1), append(u.r, -1)
			if i > 0 && f.form.spans[i-1].kind == faceSpan { // its other end cannot leave it
				u.s[i-1] = -1
			}
			continue
		}
		if i > 0 && f.form.spans[i-1].kind == faceSpan {
			u.s = append(u.s, u.s[i-1])
		} else {
			u.s = append(u.s, u.n)
			u.n++
		}
		if i == 0 && (j.r == 0 || f.narrow[0]) || i == last && (j.r == 0 || f.narrow[1]) {
			u.r = append(u.r, -1)
		} else {
			u.r = append(u.r, u.n)
			u.n++
		}
	}
	for _, g := range f.form.spans {
		if g.kind == arcSpan {
			u.rise = append(u.rise, u.n)
			u.n++
		} else {
			u.rise = append(u.rise, -1)
		}
	}
	return u
}

// cost is half of the robust chi-squared, pulls included.
func (f *fitting) cost() float64 {
	parts, most := f.form.parts(), f.form.most()
	sum := f.overRays(func(from, to int) (sum float64) {
		for k := from; k < to; k++ {
			p := f.pass(k)
			if m := touches(parts, &p, most); m.ok {
				x := m.gap * f.rays[k].sharp / p.Depth / f.scale / cauchy
				sum += f.rays[k].share * cauchy * cauchy / 2 * math.Log1p(x*x)
			}
		}
		return sum
	})
	sum /= independent
	for _, t := range f.rests {
		x := f.axis.clear(t.at) / math.Hypot(t.u, t.taken)
		sum += x * x / 2
	}
	if len(f.rests) == 2 {
		x := f.axis.even(f.rests)
		sum += x * x / 2
	}
	if f.slope.u > 0 {
		x := (math.Asin(f.axis.u.Z) - f.slope.to) / f.slope.u
		sum += x * x / 2
	}
	for i, j := range f.form.joints {
		ds, dr := (j.s-f.home.joints[i].s)/f.loose(), (j.r-f.home.joints[i].r)/f.loose()
		sum += (ds*ds + dr*dr) / 2
	}
	for i, g := range f.form.spans {
		d := (g.rise - f.home.spans[i].rise) / f.loose()
		sum += d * d / 2
	}
	return sum
}

// overRays sums over all rays.
func (f *fitting) overRays(sum func(from, to int) float64) float64 {
	sums := make([]float64, max(1, stretches(len(f.rays))))
	inStretches(len(f.rays), func(k, from, to int) { sums[k] = sum(from, to) })
	return floats.Sum(sums)
}

// Many rays are summed in stretches, side by side: the same ones on any machine, so that
// the last digit is the same.
const stretchRays = 2 * trialRays

func stretches(rays int) int { return (rays + stretchRays - 1) / stretchRays }

func inStretches(rays int, work func(k, from, to int)) {
	if rays <= stretchRays {
		work(0, 0, rays)
		return
	}
	cores.Each(stretches(rays), func(k int) { work(k, k*stretchRays, min((k+1)*stretchRays, rays)) })
}

// How far, mm standard, a joint that no edge tells may stray while the outline is sought,
// and when it is fitted again to see what a cause would change: then it should stay.
const (
	looseSought = 3.0
	looseAgain  = 0.3
)

func (f *fitting) loose() float64 {
	if f.again {
		return looseAgain
	}
	return looseSought
}

// even is how unevenly two places touch the mat, in standard deviations.
func (a axis) even(rests []touching) float64 {
	u := math.Hypot(evenDoubt(rests[1].at.s-rests[0].at.s), math.Hypot(rests[0].taken, rests[1].taken))
	return (a.clear(rests[0].at) - a.clear(rests[1].at)) / u
}

// evenDoubt is the standard uncertainty, mm, of the difference of two heights of mat and
// body so far apart: what is uneven is so over longLie, and less over less.
func evenDoubt(apart float64) float64 {
	return math.Sqrt2 * restDoubt * min(1, max(math.Abs(apart), 1)/longLie)
}

// longLie is over how many mm a mat, or the belly of a body, is as uneven as it gets
// (common practice; a guess until logged).
const longLie = 100.0

// clear is how high over the mat the lowest place of a ring is.
func (a axis) clear(j joint) float64 {
	return a.p.Z + j.s*a.u.Z - j.r*math.Sqrt(1-a.u.Z*a.u.Z)
}

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
		after := next.cost()
		if after <= cost {
			f.axis, f.form = next.axis, next.form
			if cost-after < 1e-4*(1+1e-3*cost) || f.ruin > 0 && after > f.ruin {
				return true
			}
			damp = max(damp/5, 1e-9)
			a, b, cost = f.normals(&u)
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
