package main

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/internal/photograph"
	"scalewright/stage/measure"
)

// piece is a segment of the true profile and how much of it the picture shows as
// an edge against the ground, 0 to 1.
type piece struct {
	photograph.TruthSegment
	seen   float64
	px     float64 // its length in the picture
	lo, hi float64 // of the stations seen
}

func (p *piece) face() bool { return p.S0 == p.S1 }

// What counts as observable: most of it seen, and long enough for a line to be told
// from its neighbours (eight pixels).
const (
	mostSeen = 0.6
	leastPx  = 8
)

func (p *piece) observable() bool { return !p.face() && p.seen >= mostSeen && p.px >= leastPx }

// slopeAt is the profile's slope dr/ds at a point of it.
func (p *piece) slopeAt(s, r float64) float64 {
	if p.Kind == "arc" {
		return -(s - *p.CS) / (r - *p.CR)
	}
	return (p.R1 - p.R0) / (p.S1 - p.S0)
}

// radius is the piece's radius at a station of it.
func (p *piece) radius(s float64) float64 {
	if p.Kind != "arc" {
		return p.R0 + (p.R1-p.R0)*(s-p.S0)/(p.S1-p.S0)
	}
	h := math.Sqrt(max(0, *p.R**p.R-(s-*p.CS)*(s-*p.CS)))
	if *p.CCW {
		h = -h
	}
	return *p.CR + h
}

// pieces judges every segment by the true camera and mask. A point of the surface
// at station s and clock φ is on the outline where its normal (-r', cos φ, sin φ)
// is square to the ray: with the camera at (cs, ca, cb) in the body's own
// coordinates, ca·cos φ + cb·sin φ = r - r'·(s - cs). It is seen where that point
// also lies on the mask's edge.
func (s *sample) pieces() []piece {
	o, lens := &s.truth.Object, s.lens()
	edge := newNear(4)
	for _, p := range edgeOf(s.mask) {
		edge.add(p)
	}
	p0 := r3.Vec{X: o.P0[0], Y: o.P0[1], Z: o.P0[2]}
	u := r3.Vec{X: o.Dir[0], Y: o.Dir[1], Z: o.Dir[2]}
	v := r3.Unit(r3.Vec{X: -u.Y, Y: u.X})
	w := r3.Cross(u, v)
	c := r3.Sub(lens.C, p0)
	cs, ca, cb := r3.Dot(c, u), r3.Dot(c, v), r3.Dot(c, w)
	scale := lens.F / lens.C.Z
	var out []piece
	for _, g := range o.Segments {
		p := piece{TruthSegment: g, px: math.Hypot(g.S1-g.S0, g.R1-g.R0) * scale, lo: math.Inf(1), hi: math.Inf(-1)}
		if p.face() {
			out = append(out, p)
			continue
		}
		n := max(9, int((g.S1-g.S0)/0.25))
		for k := range n {
			st := g.S0 + (g.S1-g.S0)*(float64(k)+0.5)/float64(n)
			r := p.radius(st)
			q := (r - p.slopeAt(st, r)*(st-cs)) / math.Hypot(ca, cb)
			if math.Abs(q) >= 1 {
				continue
			}
			mid, off := math.Atan2(cb, ca), math.Acos(q)
			for _, phi := range [2]float64{mid - off, mid + off} {
				sin, cos := math.Sincos(phi)
				x := r3.Add(p0, r3.Add(r3.Scale(st, u), r3.Add(r3.Scale(r*cos, v), r3.Scale(r*sin, w))))
				px, ok := lens.Project(x)
				if ok && edge.distance([2]float64{px.X, px.Y}) < 1 {
					p.seen += 1 / float64(n)
					p.lo, p.hi = min(p.lo, st), max(p.hi, st)
					break
				}
			}
		}
		out = append(out, p)
	}
	return out
}

// A found segment is that of a true one when it covers most of what is seen of it.
const mostCovered = 0.6

// flatArc is how far an arc may rise over its chord and still pass for a line, mm.
const flatArc = 0.1

func (p *piece) flat() bool {
	if p.Kind != "arc" {
		return true
	}
	c := math.Hypot(p.S1-p.S0, p.R1-p.R0) / 2
	return *p.R-math.Sqrt(max(0, *p.R**p.R-c*c)) < flatArc
}

func (p *piece) degrees() float64 {
	return 2 * math.Asin(min(1, math.Hypot(p.S1-p.S0, p.R1-p.R0)/2 / *p.R)) * 180 / math.Pi
}

func overlap(a0, a1, b0, b1 float64) float64 { return max(0, min(a1, b1)-max(a0, b0)) }

func (out *score) scoreOutline(s *sample, r measure.Result) {
	all := s.pieces()
	const leastLong = 1.0 // mm of axis: shorter found segments are neither right nor spurious
	taken := make([]int, len(all))
	for _, g := range r.Segments {
		if g.To[0]-g.From[0] < leastLong {
			continue
		}
		best, most := -1, 0.0
		for i := range all {
			if n := overlap(g.From[0], g.To[0], all[i].S0, all[i].S1); n > most {
				best, most = i, n
			}
		}
		if best >= 0 {
			taken[best]++
		}
	}
	right, observable := 0.0, 0.0
	out.Spurious = 0
	for i := range all {
		p := &all[i]
		if !p.observable() {
			continue
		}
		observable++
		out.Spurious += float64(max(0, taken[i]-1))
		var match measure.Segment
		most := 0.0
		for _, g := range r.Segments {
			if n := overlap(g.From[0], g.To[0], p.lo, p.hi); n > most {
				match, most = g, n
			}
		}
		if most < mostCovered*(p.hi-p.lo) {
			continue
		}
		if match.Kind == p.Kind || p.flat() {
			right++
		}
		if p.Kind == "arc" && match.Kind == "arc" && p.degrees() >= 30 && p.seen > 0.8 {
			e := 100 * math.Abs(match.Radius / *p.R - 1)
			if math.IsNaN(out.Radii) || e > out.Radii {
				out.Radii = e
			}
		}
	}
	if observable > 0 {
		out.Kinds = 100 * right / observable
	}
	out.scoreCorners(all, r)
}

// sharp is the turn from which a joint of two segments is a corner, radians: at less
// its station is ill determined by any edge.
const sharp = 10 * math.Pi / 180

// scoreCorners is the rms error of corners that are seen, against the nearest one
// found; one that has none within 3 mm counts as 3 mm off.
func (out *score) scoreCorners(all []piece, r measure.Result) {
	const lost = 3.0
	var found [][2]float64
	for _, g := range r.Segments {
		found = append(found, g.From, g.To)
	}
	n, ss, rr := 0, 0.0, 0.0
	for i := 0; i+1 < len(all); i++ {
		a, b := &all[i], &all[i+1]
		if !corner(a, b) {
			continue
		}
		ds, dr, best := lost, lost, lost
		for _, q := range found {
			if d := math.Hypot(q[0]-a.S1, q[1]-a.R1); d < best {
				ds, dr, best = q[0]-a.S1, q[1]-a.R1, d
			}
		}
		n, ss, rr = n+1, ss+ds*ds, rr+dr*dr
	}
	if n > 0 {
		out.CornerS, out.CornerR = math.Sqrt(ss/float64(n)), math.Sqrt(rr/float64(n))
	}
}

// corner reports whether the joint of two neighbours is a corner that the picture
// shows: two observable segments at an angle, or one and the rim of a face.
func corner(a, b *piece) bool {
	switch {
	case a.face() && b.face():
		return false
	case a.face():
		return b.observable() && a.R1 > a.R0 && a.R1 > 0 && b.lo < b.S0+1
	case b.face():
		return a.observable() && b.R0 > b.R1 && a.hi > a.S1-1
	}
	turn := math.Atan(b.slopeAt(b.S0, b.R0)) - math.Atan(a.slopeAt(a.S1, a.R1))
	return a.observable() && b.observable() && math.Abs(turn) >= sharp && a.hi > a.S1-1 && b.lo < b.S0+1
}
