package photograph

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// hit is where a ray meets a body, in the body's own coordinates.
type hit struct {
	t    float64
	p, n r3.Vec
	on   int // what was met: 1 + the segment, or -1 - the solid
}

// behind is how far along a ray its own start still counts as met, mm.
const behind = 1e-6

// meet finds the first place where a ray meets the body, from a start and a
// direction in the body's own coordinates. The tangent cone of a frustum is
// solved in closed form: |p⊥|² = (r0 + slope·(s-s0))².
func (b *body) meet(o, d r3.Vec) (h hit, ok bool) {
	h.t = math.Inf(1)
	b.meetTurned(o, d, &h)
	for i := range b.solids {
		if t, n, in := b.solids[i].meet(o, d); in && t < h.t {
			h.t, h.n, h.on = t, n, -1-i
		}
	}
	if math.IsInf(h.t, 1) {
		return h, false
	}
	h.p = r3.Add(o, r3.Scale(h.t, d))
	if h.on > 0 {
		h.n = b.normal(h.p, h.on-1)
	}
	return h, true
}

// span is where a ray runs within the cylinder that holds the turned part.
func (b *body) span(o, d r3.Vec) (t0, t1 float64, ok bool) {
	aa := d.Y*d.Y + d.Z*d.Z
	bb := o.Y*d.Y + o.Z*d.Z
	cc := o.Y*o.Y + o.Z*o.Z - b.rmax*b.rmax*(1+1e-9)
	t0, t1 = behind, math.Inf(1)
	if aa > 0 {
		disc := bb*bb - aa*cc
		if disc <= 0 {
			return 0, 0, false
		}
		root := math.Sqrt(disc)
		t0, t1 = max(t0, (-bb-root)/aa), (-bb+root)/aa
	} else if cc > 0 {
		return 0, 0, false
	}
	if d.X != 0 {
		a, c := (-behind-o.X)/d.X, (b.length+behind-o.X)/d.X
		t0, t1 = max(t0, min(a, c)), min(t1, max(a, c))
	} else if o.X < 0 || o.X > b.length {
		return 0, 0, false
	}
	return t0, t1, t0 <= t1
}

func (b *body) meetTurned(o, d r3.Vec, h *hit) {
	t0, t1, ok := b.span(o, d)
	if !ok {
		return
	}
	sa, sb := o.X+t0*d.X, o.X+t1*d.X
	if sa > sb {
		sa, sb = sb, sa
	}
	aa := d.Y*d.Y + d.Z*d.Z
	bb := o.Y*d.Y + o.Z*d.Z
	cc := o.Y*o.Y + o.Z*o.Z
	for i := b.first[min(max(int(sa/binWidth), 0), len(b.first)-1)]; i < len(b.fr); i++ {
		f := &b.fr[i]
		if f.s0 > sb {
			break
		}
		if f.s1 < sa {
			continue
		}
		if f.s0 == f.s1 {
			if d.X == 0 {
				continue
			}
			t := (f.s0 - o.X) / d.X
			q := cc + t*(2*bb+t*aa)
			lo, hi := min(f.r0, f.r1), max(f.r0, f.r1)
			if t > behind && t < h.t && q >= lo*lo && q <= hi*hi {
				h.t, h.on = t, i+1
			}
			continue
		}
		r := f.r0 + f.slope*(o.X-f.s0)
		m := f.slope * d.X
		a, c, e := aa-m*m, bb-r*m, cc-r*r
		disc := c*c - a*e
		if disc < 0 {
			continue
		}
		root := math.Sqrt(disc)
		for _, t := range [2]float64{(-c - root) / a, (-c + root) / a} {
			if t <= behind || t >= h.t {
				continue
			}
			if s := o.X + t*d.X; s >= f.s0 && s <= f.s1 && r+t*m >= 0 {
				h.t, h.on = t, i+1
			}
		}
	}
}

// normal is the outward normal of a frustum, or of the arc it stands for.
func (b *body) normal(p r3.Vec, i int) r3.Vec {
	f := &b.fr[i]
	if f.s0 == f.s1 {
		if f.r1 > f.r0 {
			return r3.Vec{X: -1}
		}
		return r3.Vec{X: 1}
	}
	rho := math.Hypot(p.Y, p.Z)
	ns, nr := -f.slope, 1.0
	if g := f.of; g.arc {
		ns, nr = p.X-g.cs, rho-g.cr
		if g.ccw {
			ns, nr = -ns, -nr
		}
	}
	h := math.Hypot(ns, nr)
	if rho == 0 || h == 0 {
		return r3.Vec{X: math.Copysign(1, ns)}
	}
	return r3.Vec{X: ns / h, Y: nr / h * p.Y / rho, Z: nr / h * p.Z / rho}
}

func (s *solid) meet(o, d r3.Vec) (t float64, n r3.Vec, ok bool) {
	lo, hi := behind, math.Inf(1)
	at := -1
	for i, n := range s.n {
		den, off := r3.Dot(n, d), s.d[i]-r3.Dot(n, o)
		switch {
		case den == 0:
			if off < 0 {
				return 0, n, false
			}
		case den > 0:
			hi = min(hi, off/den)
		case off/den > lo:
			lo, at = off/den, i
		}
		if lo > hi {
			return 0, n, false
		}
	}
	if at < 0 {
		return 0, n, false
	}
	return lo, s.n[at], true
}

// blocks reports whether the body stands in a ray's way.
func (b *body) blocks(o, d r3.Vec) bool {
	// The ball that holds all is tried first: most rays of a shadow miss it.
	m := r3.Vec{X: b.length/2 - o.X, Y: -o.Y, Z: -o.Z}
	along, dd := r3.Dot(m, d), r3.Dot(d, d)
	if r3.Dot(m, m)-along*along/dd > b.reach*b.reach {
		return false
	}
	for i := range b.solids {
		if _, _, in := b.solids[i].meet(o, d); in {
			return true
		}
	}
	h := hit{t: math.Inf(1)}
	b.meetTurned(o, d, &h)
	return h.on != 0
}
