package photograph

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r3"
)

// surface shades the body.
type surface struct {
	s   *Scene
	g   *ground
	rng *rand.Rand
}

// selfRays are cast to each lamp from a place of a body that can shade itself.
const selfRays = 8

// radiance is the light that comes from a hit, seen along d (both in the body's
// coordinates).
func (f *surface) radiance(h hit, d r3.Vec) colour {
	s, b := f.s, f.s.body
	n, p := b.worldDir(f.turned(h)), b.world(h.p)
	albedo, mirror := f.paint(h)
	e := colour{}
	for k := range s.light.lamps {
		l := &s.light.lamps[k]
		to := r3.Sub(l.at, p)
		dist := norm(to)
		// A lamp of some size still lights where its middle has just set.
		cos := r3.Dot(n, to) / dist
		soft := l.size / dist
		cos = max(0, cos, (cos+soft)*(cos+soft)/(4*soft)*b2f(cos < soft && cos > -soft))
		if cos == 0 {
			continue
		}
		open := 1.0
		if b.concave || h.on > 0 && !convexAt(b, h) {
			open = 0
			from := r3.Add(h.p, r3.Scale(0.02, h.n))
			for range selfRays {
				to := b.own(l.spot(s.light.middle, f.rng.Float64(), f.rng.Float64()))
				if !b.blocks(from, r3.Sub(to, from)) {
					open += 1.0 / selfRays
				}
			}
		}
		e = e.plus(l.colour.times(open * cos * l.power / (dist * dist) / falloff(l, s.light.middle)))
	}
	// The room from above, the lit mat from below, less of both close to the mat.
	vis, sky := f.g.shade.at(p.X, p.Y)
	below := s.mat.base.by(f.lit(vis, sky))
	up := (1 + n.Z) / 2
	near := 0.55 + 0.45*min(1, p.Z/(0.6*b.rmax+1))
	e = e.plus(s.light.ambient.times(up * near)).plus(below.times((1 - up) * near))
	out := albedo.by(e)
	if mirror != (colour{}) {
		dir := unit(b.worldDir(d))
		cos := -r3.Dot(dir, n)
		fresnel := math.Pow(1-min(1, max(0, cos)), 5) // Schlick 1994, eq. 15
		r := r3.Sub(dir, r3.Scale(2*r3.Dot(dir, n), n))
		out = out.plus(mirror.mix(colour{1, 1, 1}, fresnel*(1-0.6*s.finish.rough)).by(f.seen(p, r)))
	}
	return out
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// convexAt reports whether nothing of the body stands higher within a radius of
// a place of its turned part, so that it cannot shade itself there.
func convexAt(b *body, h hit) bool {
	rho := math.Hypot(h.p.Y, h.p.Z)
	for i := max(0, h.on-12); i < min(len(b.fr), h.on+12); i++ {
		if max(b.fr[i].r0, b.fr[i].r1) > rho+0.05 {
			return false
		}
	}
	return true
}

func (f *surface) lit(vis [2]float64, sky float64) colour {
	e := f.s.light.ambient.times(sky)
	for k := range f.s.light.lamps {
		l := &f.s.light.lamps[k]
		e = e.plus(l.colour.times(l.power * vis[k]))
	}
	return e
}

// turned is the normal with the marks of the lathe.
func (f *surface) turned(h hit) r3.Vec {
	k := f.s.finish.turned
	if k == 0 || h.on <= 0 {
		return h.n
	}
	around := math.Atan2(h.p.Z, h.p.Y)
	k *= noise(f.g.grain, h.p.X*4, around*1.5)
	n := h.n
	n.X += k
	return unit(n)
}

// paint is what a place of the body reflects all round and as a mirror.
func (f *surface) paint(h hit) (albedo, mirror colour) {
	fin := &f.s.finish
	albedo = fin.diffuse
	if h.on > 0 {
		for _, b := range fin.bands {
			if h.p.X >= b.from && h.p.X <= b.to {
				albedo = b.colour
			}
		}
	}
	return albedo, fin.mirror
}

// seen is what a mirror at p shows in direction r: lamps, room, mat.
func (f *surface) seen(p, r r3.Vec) colour {
	s := f.s
	if r.Z < -0.02 {
		t := -p.Z / r.Z
		q := place{x: p.X + t*r.X, y: p.Y + t*r.Y}
		q.wx = 0.4 + (0.02+s.finish.rough)*t
		q.wy = q.wx
		for k := range s.light.lamps {
			q.lamps[k] = s.light.irradiance(k, r3.Vec{X: q.x, Y: q.y})
		}
		return f.g.radiance(q)
	}
	// The room: lighter above, with a dark camera in its middle.
	e := s.light.ambient.times(0.45 + 0.75*max(0, r.Z))
	if t := (s.lens.c.Z - p.Z) / max(r.Z, 1e-3); r.Z > 0 {
		off := math.Hypot(p.X+t*r.X-s.lens.c.X, p.Y+t*r.Y-s.lens.c.Y)
		e = e.times(0.35 + 0.65*ramp(off, 60, 60+t*(0.1+2*s.finish.rough)))
	}
	for k := range s.light.lamps {
		l := &s.light.lamps[k]
		to := r3.Sub(l.at, p)
		dist := norm(to)
		sin := norm(r3.Cross(r, to)) / dist
		if r3.Dot(r, to) <= 0 {
			continue
		}
		// A rough mirror spreads the same light over a wider disc.
		size, blur := l.size/dist, s.finish.rough
		wide := math.Hypot(size, blur)
		level := l.power * math.Pi / (math.Pi * size * size) * (size * size) / (wide * wide)
		e = e.plus(l.colour.times(level * (1 - ramp(sin, wide*(1-blur/(wide+blur)), wide*(1+blur/(wide+blur))+0.01))))
	}
	return e
}
