package limb

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Body is a turned body by its radius at a station, between two stations, with the
// largest radius that it has.
type Body struct {
	From, To, Most float64
	Radius         func(station float64) float64
}

// marchStep is how far apart, mm of the body, a ray is looked at before the crossing is
// closed in on: a groove or rim narrower than this, seen slanting, may be passed over.
const marchStep = 0.1

// Surface is the first place at which the ray of a pixel arrives on the body's turned
// surface. Not ok where it passes by, or goes in by a face at an end, which has no
// station to speak of.
func (p *Pose) Surface(px r2.Vec, body Body) (Place, bool) {
	if !p.Shows() || body.Most <= 0 {
		return Place{}, false
	}
	d := p.Camera.Ray(px)
	w := r3.Sub(p.Camera.C, p.Origin)
	du, wu := r3.Dot(d, p.Along), r3.Dot(w, p.Along)
	dp, wp := r3.Sub(d, r3.Scale(du, p.Along)), r3.Sub(w, r3.Scale(wu, p.Along))
	// The stretch of the ray within the cylinder round the body.
	reach := body.Most/p.Stretch + marchStep
	a, half, c := r3.Dot(dp, dp), r3.Dot(dp, wp), r3.Dot(wp, wp)-reach*reach
	disc := half*half - a*c
	if a == 0 || disc <= 0 {
		return Place{}, false
	}
	root := math.Sqrt(disc)
	from, to := (-half-root)/a, (-half+root)/a
	station := func(t float64) float64 { return p.Stretch * (wu + t*du) }
	// Above nought outside the surface. Beyond the ends there is none.
	over := func(t float64) float64 {
		return p.Stretch*r3.Norm(r3.Add(wp, r3.Scale(t, dp))) - body.Radius(min(max(station(t), body.From), body.To))
	}
	n := int(math.Ceil((to - from) / marchStep))
	for k := range n {
		t0 := from + (to-from)*float64(k)/float64(n)
		t1 := from + (to-from)*float64(k+1)/float64(n)
		if over(t1) > 0 || station(t1) < body.From || station(t1) > body.To {
			continue
		}
		if station(t0) < body.From || station(t0) > body.To || over(t0) <= 0 {
			return Place{}, false
		}
		for range 40 { // to 1e-13 of a step
			if mid := (t0 + t1) / 2; over(mid) > 0 {
				t0 = mid
			} else {
				t1 = mid
			}
		}
		e := r3.Unit(r3.Add(wp, r3.Scale(t1, dp)))
		s := station(t1)
		return Place{s, body.Radius(s), p.clock(e)}, true
	}
	return Place{}, false
}
