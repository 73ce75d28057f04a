package measure

import (
	"math"

	"gonum.org/v1/gonum/floats"
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
	weak  []ray // of edges too weak to count
	rests []touching
	slope pull
	home  form // what joints that nothing tells are held near

	believed []bool // edge points that count though weak

	scale float64 // of residuals, in their standard deviations

	perParam float64 // what each number of its description costs

	passes []limb.Pass // of the rays, where the axis stays as it is
	prof   []station   // the profile as it was read
	reach  reachOf     // within which the ends lie
	again  bool        // fitted again by a displaced camera or axis
	fixed  [2]bool     // the first and last joint stay
	narrow [2]bool     // their radius stays
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
	f.rays, f.weak = nil, nil
	weak := weakEdge * max(median(all), edgeFloor)
	z := r3.Vec{X: f.cam.R[2][0], Y: f.cam.R[2][1], Z: f.cam.R[2][2]}
	for i, e := range f.edge {
		if skip[i] || !e.groove && !e.good {
			continue
		}
		d := f.sight[i].d
		u := math.Hypot(e.sigma, edgeFit)
		if e.groove {
			u = math.Hypot(u, grooveSigma)
		}
		r := ray{d, f.cam.F / r3.Dot(d, z) / u, 1, e.open / u, i}
		if e.good && e.sigma > weak && !e.groove && (f.believed == nil || !f.believed[i]) {
			f.weak = append(f.weak, r)
			continue
		}
		f.rays = append(f.rays, r)
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
