package photograph

import "math"

// segment is a line or an arc of the outline, from lower to higher station.
// An arc turns the short way about its centre; ccw as seen with the station to
// the right and the radius up.
type segment struct {
	arc            bool
	s0, r0, s1, r1 float64
	cs, cr, radius float64
	ccw            bool
}

// outline is a pen that draws a profile.
type outline struct{ segs []segment }

func startAt(r float64) *outline { return (&outline{}).lineTo(0, 0).lineTo(0, r) }

func (o *outline) end() (s, r float64) {
	if len(o.segs) == 0 {
		return 0, 0
	}
	last := o.segs[len(o.segs)-1]
	return last.s1, last.r1
}

func (o *outline) lineTo(s, r float64) *outline {
	s0, r0 := o.end()
	if s != s0 || r != r0 {
		o.segs = append(o.segs, segment{s0: s0, r0: r0, s1: s, r1: r})
	}
	return o
}

// arcTo draws an arc of the given radius, enlarged where the chord is longer than
// its diameter; ccw bends towards the axis.
func (o *outline) arcTo(s, r, radius float64, ccw bool) *outline {
	s0, r0 := o.end()
	ds, dr := s-s0, r-r0
	chord := math.Hypot(ds, dr)
	radius = max(radius, 0.505*chord)
	h := math.Sqrt(radius*radius - chord*chord/4)
	if !ccw {
		h = -h
	}
	o.segs = append(o.segs, segment{
		arc: true, s0: s0, r0: r0, s1: s, r1: r, radius: radius, ccw: ccw,
		cs: (s0+s)/2 - dr/chord*h, cr: (r0+r)/2 + ds/chord*h,
	})
	return o
}

// sagitta is how far a chord may lie inside its arc, mm: a hundredth of the
// finest pixel here.
const sagitta = 0.001

// frustum is a piece of cone between two stations (a ring where they are equal),
// with the arc it stands for.
type frustum struct {
	s0, r0, s1, r1 float64
	slope          float64
	of             *segment
}

// frusta replaces arcs by chords.
func frusta(segs []segment) (out []frustum) {
	for i := range segs {
		g := &segs[i]
		if !g.arc {
			out = append(out, cone(g.s0, g.r0, g.s1, g.r1, g))
			continue
		}
		a, sweep := g.angles()
		n := int(math.Ceil(math.Abs(sweep) / (2 * math.Acos(max(0, 1-sagitta/g.radius)))))
		s0, r0 := g.s0, g.r0
		for k := 1; k <= n; k++ {
			sin, cos := math.Sincos(a + sweep*float64(k)/float64(n))
			s1, r1 := g.cs+g.radius*cos, g.cr+g.radius*sin
			if k == n {
				s1, r1 = g.s1, g.r1
			}
			out = append(out, cone(s0, r0, s1, r1, g))
			s0, r0 = s1, r1
		}
	}
	return out
}

// angles are where an arc starts about its centre, and how far it turns.
func (g *segment) angles() (start, sweep float64) {
	start = math.Atan2(g.r0-g.cr, g.s0-g.cs)
	sweep = math.Remainder(math.Atan2(g.r1-g.cr, g.s1-g.cs)-start, 2*math.Pi)
	return start, sweep
}

func cone(s0, r0, s1, r1 float64, of *segment) frustum {
	f := frustum{s0: s0, r0: r0, s1: s1, r1: r1, of: of}
	if s1 != s0 {
		f.slope = (r1 - r0) / (s1 - s0)
	}
	return f
}

// radiusAt is the radius of a profile; at a step the larger one.
func radiusAt(segs []segment, s float64) float64 {
	best := 0.0
	for _, g := range segs {
		switch {
		case s < g.s0 || s > g.s1:
		case g.s0 == g.s1:
			best = max(best, g.r0, g.r1)
		case g.arc:
			h := math.Sqrt(max(0, g.radius*g.radius-(s-g.cs)*(s-g.cs)))
			if g.ccw {
				h = -h
			}
			best = max(best, g.cr+h)
		default:
			best = max(best, g.r0+(g.r1-g.r0)*(s-g.s0)/(g.s1-g.s0))
		}
	}
	return best
}

func lengthOf(segs []segment) float64 { return segs[len(segs)-1].s1 }

func widest(segs []segment) (r float64) {
	for _, f := range frusta(segs) {
		r = max(r, f.r0, f.r1)
	}
	return r
}
