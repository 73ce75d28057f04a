package measure

import (
	"math"

	"gonum.org/v1/gonum/floats"

	"scalewright/craft/limb"
)

// slopes is how the gap of a ray changes with the unknowns: the first count of idx and
// by; idx -1 is an unknown that is not free.
type slopes struct {
	count int
	idx   [9]int
	by    [9]float64
}

// lineared is a fit about to be linearised: its parts, how its arcs bend, and the axis a
// little displaced.
type lineared struct {
	*fitting
	u     *unknowns
	parts []part
	most  float64
	arcs  [][5]arc // derivatives of arcs by ends and rise
	near  [4]axis
}

func (f *fitting) lineared(u *unknowns) lineared {
	l := lineared{fitting: f, u: u, parts: f.form.parts(), most: f.form.most()}
	l.arcs = make([][5]arc, len(l.parts))
	for i := range l.parts {
		if q := &l.parts[i]; q.span >= 0 && f.form.spans[q.span].kind == arcSpan {
			l.arcs[i] = f.form.bent(q.span)
		}
	}
	g := f.frame()
	for k := range l.near {
		var d [4]float64
		d[k] = poseStep
		l.near[k] = f.axis.moved(g, d)
	}
	return l
}

// ray is where ray k touches, in how many standard deviations a millimetre of gap counts
// there, and how the gap changes.
func (l *lineared) ray(k int, out *slopes) (m graze, unit float64, side limb.Side) {
	c, p := &l.rays[k], l.pass(k)
	m = touches(l.parts, &p, l.most)
	if !m.ok {
		return m, 0, p.Side
	}
	dm, ds, dl := p.Gradient(m.out)
	for k := range l.near {
		out.idx[k] = -1
		if l.passes != nil {
			continue
		}
		q := limb.PassOf(l.near[k].p, l.near[k].u, l.cam.C, c.d)
		d := q.Near - p.Near
		if q.Side != p.Side {
			d = -q.Near - p.Near
		}
		out.idx[k] = k
		out.by[k] = (dm*d + ds*(q.Station-p.Station) + dl*(q.Lean-p.Lean)) / poseStep
	}
	q := &l.parts[m.part]
	sin, cos := m.out.Sin, m.out.Cos
	out.count = 4
	put := func(i int, v float64) {
		out.idx[out.count], out.by[out.count] = i, v
		out.count++
	}
	u := l.u
	switch {
	case q.joint >= 0:
		put(u.s[q.joint], -sin)
		put(u.r[q.joint], -cos)
	case l.form.spans[q.span].kind == arcSpan:
		for i, d := range l.arcs[m.part] {
			v := -(sin*d.s + cos*d.r + d.bend)
			put([5]int{u.s[q.span], u.r[q.span], u.s[q.span+1], u.r[q.span+1], u.rise[q.span]}[i], v)
		}
	default:
		put(u.s[q.span], -(1-m.f)*sin)
		put(u.r[q.span], -(1-m.f)*cos)
		put(u.s[q.span+1], -m.f*sin)
		put(u.r[q.span+1], -m.f*cos)
	}
	return m, c.sharp / p.Depth / l.scale, p.Side
}

// equations are normal equations and half of the robust chi-squared where they were made.
type equations struct {
	n    int
	a, b []float64
	cost float64
}

func newEquations(n int) equations {
	return equations{n: n, a: make([]float64, n*n), b: make([]float64, n)}
}

// add takes a residual in, by its slopes along the first m unknowns of idx.
func (e *equations) add(row *slopes, m int, resid, w float64) {
	idx, jac := &row.idx, &row.by
	for i := range m {
		if idx[i] < 0 {
			continue
		}
		wi := w * jac[i]
		e.b[idx[i]] -= wi * resid
		for j := range m {
			if idx[j] >= 0 {
				e.a[idx[i]*e.n+idx[j]] += wi * jac[j]
			}
		}
	}
}

// ofRays are the equations of the edge.
func (l *lineared) ofRays() equations {
	all := make([]equations, max(1, stretches(len(l.rays))))
	inStretches(len(l.rays), func(s, from, to int) {
		e := newEquations(l.u.n)
		var row slopes
		for k := from; k < to; k++ {
			m, unit, _ := l.ray(k, &row)
			if !m.ok {
				continue
			}
			share := l.rays[k].share
			x := m.gap * unit
			e.cost += share * cauchy * cauchy / 2 * math.Log1p(x*x/cauchy/cauchy) / independent
			e.add(&row, row.count, m.gap, share*unit*unit/(1+x*x/cauchy/cauchy)/independent)
		}
		all[s] = e
	})
	out := all[0]
	for _, e := range all[1:] {
		floats.Add(out.a, e.a)
		floats.Add(out.b, e.b)
		out.cost += e.cost
	}
	return out
}

// normals are the normal equations of the fit linearised.
func (f *fitting) normals(u *unknowns) (a []float64, b []float64, cost float64) {
	l := f.lineared(u)
	near := &l.near
	e := l.ofRays()
	var row slopes
	idx, jac := &row.idx, &row.by
	for _, t := range f.rests {
		c := f.axis.clear(t.at)
		for k := range near {
			idx[k], jac[k] = k, (near[k].clear(t.at)-c)/poseStep
		}
		uu := t.u*t.u + t.taken*t.taken
		e.add(&row, 4, c, 1/uu)
		e.cost += c * c / uu / 2
	}
	if len(f.rests) == 2 {
		x := f.axis.even(f.rests)
		for k := range near {
			idx[k], jac[k] = k, (near[k].even(f.rests)-x)/poseStep
		}
		e.add(&row, 4, x, 1)
		e.cost += x * x / 2
	}
	if f.slope.u > 0 {
		x := math.Asin(f.axis.u.Z)
		for k := range near {
			idx[k], jac[k] = k, (math.Asin(near[k].u.Z)-x)/poseStep
		}
		x -= f.slope.to
		e.add(&row, 4, x, 1/(f.slope.u*f.slope.u))
		e.cost += x * x / (f.slope.u * f.slope.u) / 2
	}
	hold := 1 / (f.loose() * f.loose())
	for i, j := range f.form.joints {
		h := f.home.joints[i]
		idx[0], jac[0] = u.s[i], 1
		e.add(&row, 1, j.s-h.s, hold)
		idx[0] = u.r[i]
		e.add(&row, 1, j.r-h.r, hold)
		e.cost += ((j.s-h.s)*(j.s-h.s) + (j.r-h.r)*(j.r-h.r)) * hold / 2
	}
	for i, s := range f.form.spans {
		d := s.rise - f.home.spans[i].rise
		idx[0], jac[0] = u.rise[i], 1
		e.add(&row, 1, d, hold)
		e.cost += d * d * hold / 2
	}
	return e.a, e.b, e.cost
}

// bent is how the circle of an arc changes with the station and radius of its first
// end, of its second, and with its rise.
func (f *form) bent(i int) (out [5]arc) {
	const h = 1e-6 // mm
	a, b, rise := f.joints[i], f.joints[i+1], f.spans[i].rise
	if math.Abs(rise) < 100*flatRise {
		rise = math.Copysign(100*flatRise, rise)
	}
	for k := range out {
		var d [2]arc
		for side, step := range [2]float64{h, -h} {
			p, q, e := a, b, rise
			*[5]*float64{&p.s, &p.r, &q.s, &q.r, &e}[k] += step
			d[side] = arcOver(p, q, e)
		}
		out[k] = arc{(d[0].s - d[1].s) / (2 * h), (d[0].r - d[1].r) / (2 * h), (d[0].bend - d[1].bend) / (2 * h)}
	}
	return out
}
