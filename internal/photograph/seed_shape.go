package photograph

import "math"

// object chooses the shape. Shapes whose rest is steeper than the seed asks for
// are drawn again.
func (m *maker) object() {
	kinds := []func() shape{m.rocket, m.plumb, m.spindle, m.knob, m.stepped, m.bottle}
	for {
		var sh shape
		switch {
		case m.trap == trapDiscs:
			sh = m.discs()
		case m.trap == trapFins:
			sh = m.rocket()
		case m.trap == trapGrooves:
			sh = m.spindle()
		case m.also(0.06):
			sh = m.discs()
		case m.trap == trapNone:
			sh = kinds[3+m.IntN(3)]()
		default:
			sh = kinds[m.IntN(len(kinds))]()
		}
		_, dip := sh.rest()
		deg := math.Abs(dip) * 180 / math.Pi
		if deg > 5 || m.trap == trapSlope && deg < 2.5 || m.trap == trapNone && deg > 2 {
			continue
		}
		m.s.body = newBody(sh)
		return
	}
}

// rocket is a hull with a nose of one or two arcs, three or four fins or none.
func (m *maker) rocket() shape {
	l := m.tenth(110, 240)
	r := m.tenth(0.06*l, 0.11*l)
	o := startAt(0.45 * r)
	o.lineTo(m.tenth(0.04, 0.06)*l+2, 0.35*r)
	s, _ := o.end()
	o.lineTo(s, 0.8*r)
	s += m.tenth(0.05*l, 0.09*l)
	if m.chance(0.5) {
		o.lineTo(s, r)
	} else {
		o.arcTo(s, r, 0.8*l, false)
	}
	tail := s
	s += m.tenth(0.25*l, 0.32*l)
	o.lineTo(s, r)
	if m.chance(0.7) { // a ring between stages
		deep, wide := m.tenth(0.8, 1.8), m.tenth(1.5, 3.5)
		o.lineTo(s, r-deep).lineTo(s+wide, r-deep).lineTo(s+wide, r)
		s += wide
	}
	s += m.tenth(0.08*l, 0.14*l)
	o.lineTo(s, r)
	top := r
	if m.chance(0.6) {
		top = r * m.between(0.7, 0.9)
		s += m.tenth(6, 14)
		o.lineTo(s, top)
		s += m.tenth(6, 18)
		o.lineTo(s, top)
	}
	tip := m.tenth(1.5, 3.5)
	if m.chance(0.3) {
		o.lineTo(l-tip, tip)
	} else {
		nose := l - tip - s
		// Tangent to the hull where it starts: R = (n² + h²) / 2h.
		drop := top - tip
		o.arcTo(l-tip, tip, (nose*nose+drop*drop)/(2*drop), false)
	}
	o.arcTo(l, 0, tip*1.08, false)
	sh := shape{kind: "rocket", segs: o.segs}
	if m.trap == trapFins || m.chance(0.6) {
		n := 3 + m.IntN(2)
		first := math.Pi / 4
		if n == 3 {
			first = math.Pi / 2
		}
		root, span := m.tenth(0.2*l, 0.28*l), m.tenth(0.8, 1.1)*r
		sweep := m.between(0.1, 0.5) * root
		a := tail - 4 + m.tenth(0, 8)
		for k := range n {
			sh.fins = append(sh.fins, fin{
				clock: first + 2*math.Pi*float64(k)/float64(n), thick: 2.4,
				poly: [][2]float64{{a + 6, 0.6 * r}, {a + root, 0.9 * r}, {a + root - sweep - 4, r + span}, {a - 4, r + span}},
			})
		}
	}
	return sh
}

// plumb is a plumb bob: a needle cone, a belly, a neck and a knob.
func (m *maker) plumb() shape {
	r := m.tenth(12, 24)
	o := startAt(m.tenth(0.4, 1.2))
	s := m.tenth(1.8*r, 3*r)
	o.lineTo(s, m.between(0.7, 0.95)*r)
	s += m.tenth(8, 18)
	if m.chance(0.6) {
		o.arcTo(s, r, m.between(1.1, 3)*r, false)
	} else {
		o.lineTo(s, r)
	}
	s += m.tenth(0.6*r, 1.8*r)
	o.lineTo(s, r)
	neck := m.tenth(0.3*r, 0.5*r)
	s += m.tenth(0.5*r, 0.8*r)
	o.arcTo(s, neck, m.between(0.7, 1.2)*r, false)
	s += m.tenth(5, 12)
	o.lineTo(s, neck)
	if m.chance(0.6) {
		w := m.tenth(5, 9)
		o.arcTo(s+w, neck, m.between(0.55, 0.9)*w, true)
		s += w + m.tenth(3, 7)
		o.lineTo(s, neck)
	}
	top := neck * m.between(0.6, 0.8)
	o.lineTo(s, top)
	o.arcTo(s+m.tenth(1.1, 1.7)*top, 0, 1.25*top, false)
	return shape{kind: "plumb", segs: o.segs}
}

// spindle is a turned shaft with shoulders, narrow grooves, a flange and often a
// hexagonal plate.
func (m *maker) spindle() shape {
	r := m.tenth(7, 13)
	o := startAt(r-1).lineTo(1, r)
	s := m.tenth(15, 30)
	o.lineTo(s, r)
	big := r + m.tenth(3, 7)
	o.lineTo(s, big)
	collar := s
	s += m.tenth(16, 26)
	o.lineTo(s, big)
	groove := func(deep, wide float64) {
		_, r0 := o.end()
		o.lineTo(s, r0-deep).lineTo(s+wide, r0-deep).lineTo(s+wide, r0)
		s += wide
	}
	groove(m.tenth(1, 2.5), m.tenth(1.5, 3))
	s += m.tenth(10, 20)
	o.lineTo(s, big)
	shaft := r + m.tenth(-2, 1.5)
	o.lineTo(s, shaft)
	s += m.tenth(30, 70)
	o.lineTo(s, shaft)
	groove(m.tenth(0.8, 1.5), m.tenth(1.2, 2.4))
	s += m.tenth(8, 20)
	o.lineTo(s, shaft)
	flange := big + m.tenth(1, 5)
	o.lineTo(s, flange)
	s += m.tenth(5, 10)
	o.lineTo(s, flange)
	s += m.tenth(8, 16)
	end := shaft * m.between(0.6, 0.85)
	if m.chance(0.5) {
		o.lineTo(s, end)
	} else {
		o.arcTo(s, end, 1.2*(flange-end)+6, true)
	}
	s += m.tenth(15, 35)
	o.lineTo(s, end)
	if m.chance(0.6) {
		groove(m.tenth(1, 2), m.tenth(1.5, 3))
		s += m.tenth(4, 8)
		o.lineTo(s, end)
	}
	o.lineTo(s+1.5, end-1.5).lineTo(s+1.5, 0)
	sh := shape{kind: "spindle", segs: o.segs}
	if m.trap == trapGrooves || m.chance(0.5) {
		p := plate{s0: collar + 4, s1: collar + m.tenth(10, 13), apothem: big + m.tenth(0.5, 3.5), sides: 6, clock: math.Pi / 6}
		if m.chance(0.3) {
			p.clock = 0 // it stands on a corner, where the flange holds it
		}
		sh.plates = append(sh.plates, p)
	}
	return sh
}

// knob is lathe work: beads and coves between fillets.
func (m *maker) knob() shape {
	r := m.tenth(10, 20)
	o := startAt(r)
	s := m.tenth(6, 14)
	o.lineTo(s, r)
	for range 3 + m.IntN(3) {
		_, r0 := o.end()
		switch m.IntN(4) {
		case 0: // bead
			w := m.tenth(8, 18)
			o.arcTo(s+w, r0, m.between(0.55, 1)*w, false)
			s += w
		case 1: // cove
			w := m.tenth(8, 20)
			o.arcTo(s+w, r0, m.between(max(0.6, w/(1.2*r0)/2), 1.4)*w, true)
			s += w
		case 2: // taper
			w := m.tenth(12, 30)
			o.lineTo(s+w, min(26, max(6, r0*m.between(0.7, 1.3))))
			s += w
		case 3: // ogee
			w := m.tenth(16, 30)
			r1 := min(26, max(6, r0*m.between(0.75, 1.25)))
			o.arcTo(s+w/2, (r0+r1)/2, w, r1 > r0).arcTo(s+w, r1, w, r1 <= r0)
			s += w
		}
		_, r0 = o.end()
		w := m.tenth(2, 8)
		if m.chance(0.4) {
			step := m.tenth(1.2, 3)
			if r0 > 12 {
				step = -step
			}
			o.lineTo(s, r0+step)
			r0 += step
		}
		o.lineTo(s+w, r0)
		s += w
	}
	_, r0 := o.end()
	if m.chance(0.6) {
		o.arcTo(s+m.tenth(0.6, 1)*r0, 0, 1.15*r0, false)
	} else {
		o.lineTo(s, 0)
	}
	return shape{kind: "knob", segs: o.segs}
}

// stepped is a shaft of plain cylinders with chamfers.
func (m *maker) stepped() shape {
	o := startAt(m.tenth(5, 12))
	s := 0.0
	up := m.chance(0.5)
	for range 4 + m.IntN(3) {
		s += m.tenth(10, 40)
		_, r0 := o.end()
		o.lineTo(s, r0)
		step := m.tenth(1.5, 6)
		if !up {
			step = -step
		}
		r1 := r0 + step
		if r1 < 4 || r1 > 28 {
			up = !up
			r1 = r0 - step
		}
		switch m.IntN(4) {
		case 0:
			c := m.tenth(1, 3)
			o.lineTo(s+c, r1)
			s += c
		case 1:
			c := math.Abs(r1 - r0)
			o.arcTo(s+c, r1, c, r1 > r0 == m.chance(0.5))
			s += c
		default:
			o.lineTo(s, r1)
		}
		up = up != m.chance(0.35)
	}
	s += m.tenth(8, 20)
	_, r0 := o.end()
	o.lineTo(s, r0).lineTo(s, 0)
	return shape{kind: "stepped", segs: o.segs}
}

// bottle is a long smooth body of few arcs.
func (m *maker) bottle() shape {
	r := m.tenth(14, 26)
	o := startAt(0.85 * r)
	s := m.tenth(3, 6)
	o.arcTo(s, r, 1.1*s+1, false)
	s += m.tenth(1.5*r, 3*r)
	o.lineTo(s, r)
	neck := m.tenth(0.35, 0.5) * r
	w := m.tenth(1.4, 2.2) * r
	mid := (r + neck) / 2
	o.arcTo(s+w/2, mid, (w*w/4+(r-mid)*(r-mid))/(2*(r-mid)), false)
	o.arcTo(s+w, neck, (w*w/4+(mid-neck)*(mid-neck))/(2*(mid-neck)), true)
	s += w + m.tenth(10, 30)
	o.lineTo(s, neck)
	if m.chance(0.7) {
		lip := neck + m.tenth(1.2, 2.5)
		o.lineTo(s, lip).lineTo(s+m.tenth(3, 6), lip)
		s, _ = o.end()
	}
	o.lineTo(s, 0)
	return shape{kind: "bottle", segs: o.segs}
}

// discs is two thin discs on an axle.
func (m *maker) discs() shape {
	axle := m.tenth(3, 8)
	a := m.tenth(14, 32)
	b := a * m.between(0.85, 1)
	o := startAt(axle)
	s := m.tenth(6, 25)
	o.lineTo(s, axle).lineTo(s, a)
	s += m.tenth(1.5, 4)
	o.lineTo(s, a).lineTo(s, axle)
	s += m.tenth(40, 110)
	o.lineTo(s, axle).lineTo(s, b)
	s += m.tenth(1.5, 4)
	o.lineTo(s, b).lineTo(s, axle)
	s += m.tenth(6, 25)
	o.lineTo(s, axle).lineTo(s, 0)
	return shape{kind: "discs", segs: o.segs}
}
