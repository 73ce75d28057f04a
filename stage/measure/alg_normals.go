package measure

import (
	"math"

	"scalewright/craft/limb"
)

// normals are the normal equations of the fit linearised.
func (f *fitting) normals(u *unknowns) (a []float64, b []float64, cost float64) {
	n := u.n
	a, b = make([]float64, n*n), make([]float64, n)
	parts, most := f.form.parts(), f.form.most()
	arcs := make([][5]arc, len(parts)) // derivatives of arcs by ends and rise
	for i := range parts {
		if q := &parts[i]; q.span >= 0 && f.form.spans[q.span].kind == arcSpan {
			arcs[i] = f.form.bent(q.span)
		}
	}
	g := f.frame()
	var near [4]axis
	for k := range near {
		var d [4]float64
		d[k] = poseStep
		near[k] = f.axis.moved(g, d)
	}
	var idx [9]int
	var jac [9]float64
	add := func(m int, resid, w float64) {
		for i := range m {
			if idx[i] < 0 {
				continue
			}
			wi := w * jac[i]
			b[idx[i]] -= wi * resid
			for j := range m {
				if idx[j] >= 0 {
					a[idx[i]*n+idx[j]] += wi * jac[j]
				}
			}
		}
	}
	for k := range f.rays {
		c := &f.rays[k]
		p := f.pass(k)
		m := touches(parts, &p, most)
		if !m.ok {
			continue
		}
		unit := c.sharp / p.Depth / f.scale
		x := m.gap * unit
		cost += c.share * cauchy * cauchy / 2 * math.Log1p(x*x/cauchy/cauchy) / independent
		w := c.share * unit * unit / (1 + x*x/cauchy/cauchy) / independent
		dm, ds, dl := p.Gradient(m.out)
		for k := range near {
			idx[k] = -1
			if f.passes != nil {
				continue
			}
			q := limb.PassOf(near[k].p, near[k].u, f.cam.C, c.d)
			d := q.Near - p.Near
			if q.Side != p.Side {
				d = -q.Near - p.Near
			}
			idx[k] = k
			jac[k] = (dm*d + ds*(q.Station-p.Station) + dl*(q.Lean-p.Lean)) / poseStep
		}
		q := &parts[m.part]
		sin, cos := m.out.Sin, m.out.Cos
		count := 4
		put := func(i int, v float64) {
			idx[count], jac[count] = i, v
			count++
		}
		switch {
		case q.joint >= 0:
			put(u.s[q.joint], -sin)
			put(u.r[q.joint], -cos)
		case f.form.spans[q.span].kind == arcSpan:
			for i, d := range arcs[m.part] {
				v := -(sin*d.s + cos*d.r + d.bend)
				put([5]int{u.s[q.span], u.r[q.span], u.s[q.span+1], u.r[q.span+1], u.rise[q.span]}[i], v)
			}
		default:
			put(u.s[q.span], -(1-m.f)*sin)
			put(u.r[q.span], -(1-m.f)*cos)
			put(u.s[q.span+1], -m.f*sin)
			put(u.r[q.span+1], -m.f*cos)
		}
		add(count, m.gap, w)
	}
	for _, t := range f.rests {
		c := f.axis.clear(t.at)
		for k := range near {
			idx[k], jac[k] = k, (near[k].clear(t.at)-c)/poseStep
		}
		add(4, c, 1/(t.u*t.u))
		cost += c * c / (t.u * t.u) / 2
	}
	if len(f.rests) == 2 {
		x := f.axis.even(f.rests)
		for k := range near {
			idx[k], jac[k] = k, (near[k].even(f.rests)-x)/poseStep
		}
		add(4, x, 1)
		cost += x * x / 2
	}
	if f.slope.u > 0 {
		x := math.Asin(f.axis.u.Z)
		for k := range near {
			idx[k], jac[k] = k, (math.Asin(near[k].u.Z)-x)/poseStep
		}
		x -= f.slope.to
		add(4, x, 1/(f.slope.u*f.slope.u))
		cost += x * x / (f.slope.u * f.slope.u) / 2
	}
	const hold = 1 / (loose * loose)
	for i, j := range f.form.joints {
		h := f.home.joints[i]
		idx[0], jac[0] = u.s[i], 1
		add(1, j.s-h.s, hold)
		idx[0] = u.r[i]
		add(1, j.r-h.r, hold)
		cost += ((j.s-h.s)*(j.s-h.s) + (j.r-h.r)*(j.r-h.r)) * hold / 2
	}
	for i, s := range f.form.spans {
		d := s.rise - f.home.spans[i].rise
		idx[0], jac[0] = u.rise[i], 1
		add(1, d, hold)
		cost += d * d * hold / 2
	}
	return a, b, cost
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
