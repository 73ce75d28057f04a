package photograph

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// support is how far a body reaches below its axis, at a station.
type support struct{ s, down float64 }

// supports lists every place that could touch the mat. Below the axis, a point at
// clock c and radius ρ lies -ρ·sin c down.
func (s *shape) supports() (out []support) {
	for _, f := range frusta(s.segs) {
		out = append(out, support{f.s0, f.r0}, support{f.s1, f.r1})
	}
	for _, f := range s.fins {
		sin, cos := math.Sincos(f.clock)
		for _, p := range f.poly {
			out = append(out, support{p[0], -sin*p[1] + f.thick/2*math.Abs(cos)})
		}
	}
	for _, p := range s.plates {
		for k := range p.sides {
			sin := math.Sin(p.clock + 2*math.Pi*(float64(k)+0.5)/float64(p.sides))
			out = append(out, support{p.s0, -sin * p.corner()}, support{p.s1, -sin * p.corner()})
		}
	}
	return out
}

// weight is the station of the centre of mass of an even material.
func (s *shape) weight() float64 {
	var m, ms float64
	for _, f := range frusta(s.segs) {
		// A frustum as a slice at its middle: close, since arcs come in short ones,
		// and long cones are cut below.
		const cuts = 16
		for k := range cuts {
			t := (float64(k) + 0.5) / cuts
			r := f.r0 + t*(f.r1-f.r0)
			dm := math.Pi * r * r * (f.s1 - f.s0) / cuts
			m, ms = m+dm, ms+dm*(f.s0+t*(f.s1-f.s0))
		}
	}
	for _, f := range s.fins {
		area, moment := 0.0, 0.0
		for i, p := range f.poly {
			q := f.poly[(i+1)%len(f.poly)]
			cross := p[0]*q[1] - q[0]*p[1]
			area += cross / 2
			moment += cross * (p[0] + q[0]) / 6
		}
		m, ms = m+math.Abs(area)*f.thick, ms+math.Abs(area)*f.thick*moment/area
	}
	for _, p := range s.plates {
		a := float64(p.sides) * p.apothem * p.apothem * math.Tan(math.Pi/float64(p.sides))
		a = max(0, a-math.Pi*math.Pow(radiusAt(s.segs, (p.s0+p.s1)/2), 2)) * (p.s1 - p.s0)
		m, ms = m+a, ms+a*(p.s0+p.s1)/2
	}
	return ms / m
}

// rest is how a shape lies on a plane: the axis's height at station 0 and how far
// it rises, radians. At dip ε the lowest point of what reaches d below the axis
// at station s has the height h0 + s·sin ε - d·cos ε; divided by cos ε, the line
// h0/cos ε + s·tan ε must lie on or above all (s, d). The line that carries the
// weight is the edge of their upper hull over the centre of mass.
func (s *shape) rest() (h0, dip float64) {
	pts := s.supports()
	slices.SortFunc(pts, func(a, b support) int {
		switch {
		case a.s < b.s || (a.s == b.s && a.down < b.down):
			return -1
		case a == b:
			return 0
		}
		return 1
	})
	var hull []support
	for _, p := range pts {
		for len(hull) > 0 && hull[len(hull)-1].s == p.s {
			hull = hull[:len(hull)-1]
		}
		for len(hull) > 1 {
			a, b := hull[len(hull)-2], hull[len(hull)-1]
			if (b.s-a.s)*(p.down-a.down) < (p.s-a.s)*(b.down-a.down) {
				break
			}
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, p)
	}
	at := s.weight()
	k := 1
	for k < len(hull)-1 && hull[k].s < at {
		k++
	}
	a, b := hull[k-1], hull[k]
	tan := (b.down - a.down) / (b.s - a.s)
	dip = math.Atan(tan)
	return (a.down - a.s*tan) * math.Cos(dip), dip
}

// lay puts a body with its middle over a place of the mat.
func (b *body) lay(x, y, azimuth float64) {
	h0, dip := b.rest()
	b.azimuth, b.dip = azimuth, dip
	sin, cos := math.Sincos(azimuth)
	sd, cd := math.Sincos(dip)
	b.u = r3.Vec{X: cos * cd, Y: sin * cd, Z: sd}
	b.v = r3.Vec{X: -sin, Y: cos}
	b.w = r3.Cross(b.u, b.v)
	b.p0 = r3.Vec{X: x - b.u.X*b.length/2, Y: y - b.u.Y*b.length/2, Z: h0}
}
