package beam

import (
	"cmp"
	"math"
	"slices"
)

// Load is a force square to the beam at a place along it, downwards.
type Load struct{ At, Force float64 }

// Bent is how a beam bends: its largest moment and deflection, each with where.
type Bent struct {
	Moment, MomentAt float64 // N·mm, as a magnitude
	Droop, DroopAt   float64 // mm, as a magnitude
}

// Spread is a weight spread evenly over a stretch, as point loads in the middles
// of n equal parts.
func Spread(from, to, force float64, n int) []Load {
	loads := make([]Load, n)
	step := (to - from) / float64(n)
	for i := range loads {
		loads[i] = Load{from + (float64(i)+0.5)*step, force / float64(n)}
	}
	return loads
}

// OnTwo bends a beam that lies on supports at a and b, a < b; what reaches past
// them hangs over. EI is its stiffness, N·mm².
func OnTwo(loads []Load, a, b, ei float64) Bent {
	return onTwo(loads, a, b, ei, func(*shape) {})
}

func onTwo(loads []Load, a, b, ei float64, see func(*shape)) Bent {
	loads = sorted(loads)
	ra := 0.0 // moments about b
	total := 0.0
	for _, l := range loads {
		ra += l.Force * (b - l.At) / (b - a)
		total += l.Force
	}
	forces := append(slices.Clone(loads), Load{a, -ra}, Load{b, ra - total})
	return bend(sorted(forces), ei, func(s *shape) {
		// The deflection is nought at both supports: a straight line is added.
		wa, wb := s.at(a), s.at(b)
		s.tilt = (wa - wb) / (b - a)
		s.lift = -wa - s.tilt*(a-s.from)
		see(s)
	})
}

// Held bends a beam that is held fast at one end, at 0.
func Held(loads []Load, ei float64) Bent { return held(loads, ei).worst() }

func held(loads []Load, ei float64) *shape {
	total, moment := 0.0, 0.0
	for _, l := range loads {
		total += l.Force
		moment += l.Force * l.At
	}
	forces := append(sorted(loads), Load{0, -total})
	s := newShape(sorted(forces), ei)
	s.moment0 = -moment
	s.integrate()
	return s
}

func sorted(loads []Load) []Load {
	out := slices.Clone(loads)
	slices.SortStableFunc(out, func(p, q Load) int { return cmp.Compare(p.At, q.At) })
	return out
}

// bend integrates the moment twice and lets the supports settle the rest.
func bend(forces []Load, ei float64, settle func(*shape)) Bent {
	s := newShape(forces, ei)
	s.integrate()
	settle(s)
	return s.worst()
}

// shape is the elastic line between the forces: on each stretch the moment runs
// straight, the slope is a parabola and the deflection a cubic, so that the
// corners say all.
type shape struct {
	forces     []Load
	ei         float64
	from       float64
	moment0    float64
	corners    []corner
	tilt, lift float64
}

// corner is the state at a force: moment just after it, slope and deflection.
type corner struct{ at, moment, shear, slope, down float64 }

func newShape(forces []Load, ei float64) *shape {
	return &shape{forces: forces, ei: ei, from: forces[0].At}
}

// integrate walks along the beam: dM/dx = V, dθ/dx = -M/EI, dw/dx = θ, with w and
// the forces downwards and M > 0 where the underside is drawn out.
func (s *shape) integrate() {
	c := corner{at: s.from, moment: s.moment0}
	for i, f := range s.forces {
		if i > 0 {
			c = c.after(f.At-c.at, s.ei)
		}
		c.shear -= f.Force
		s.corners = append(s.corners, c)
	}
}

// after is the state a little further on, where no force acts in between.
func (c corner) after(x, ei float64) corner {
	return corner{
		at:     c.at + x,
		shear:  c.shear,
		moment: c.moment + c.shear*x,
		slope:  c.slope - (c.moment*x+c.shear*x*x/2)/ei,
		down:   c.down + c.slope*x - (c.moment*x*x/2+c.shear*x*x*x/6)/ei,
	}
}

// at is the deflection at a place. Short of the first force and past the last the
// beam is straight: no moment is left there.
func (s *shape) at(x float64) float64 {
	if first := s.corners[0]; x < first.at {
		return first.down + first.slope*(x-first.at) + s.tilt*(x-s.from) + s.lift
	}
	last := s.corners[0]
	for _, c := range s.corners {
		if c.at <= x {
			last = c
		}
	}
	return last.after(x-last.at, s.ei).down + s.tilt*(x-s.from) + s.lift
}

// Places looked at between two forces for the largest deflection: a cubic has no
// more than two turns there, and within a twentieth of a stretch of its top it is
// off by less than a hundredth.
const placesBetween = 20

func (s *shape) worst() Bent {
	var out Bent
	for i, c := range s.corners {
		if m := math.Abs(c.moment); m > out.Moment {
			out.Moment, out.MomentAt = m, c.at
		}
		steps := 1
		far := 0.0
		if i+1 < len(s.corners) {
			far, steps = s.corners[i+1].at-c.at, placesBetween
		}
		for k := range steps {
			x := far * float64(k) / float64(steps)
			w := math.Abs(c.after(x, s.ei).down + s.tilt*(c.at+x-s.from) + s.lift)
			if w > out.Droop {
				out.Droop, out.DroopAt = w, c.at+x
			}
		}
	}
	return out
}
