package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// end is one end of the body.
type end struct {
	s     float64 // station from the axis' origin, mm
	r     float64 // radius there: of a blunt end, or 0
	u     float64 // standard uncertainty of the station, mm
	open  float64 // of a tip: how fast r² rises from it, mm
	rms   float64 // of a rim, pixels
	tip   bool    // the sides close here: r² runs to nought
	rim   bool
	fit   rim  // of a rim, its slope let go
	slope bool // that fit is sure enough to tell the slope
}

// ends finds the stations of both ends, by their rims where they are blunt.
func (v view) ends(out *solution) bool {
	lo, hi, ok := v.crossings(out.axis, out.skip)
	if !ok {
		return false
	}
	h := split(out.axis, v.cam.C, v.kept(out.skip), v.sight)
	for k, c := range [2]crossing{lo, hi} {
		e := v.tip(out.axis, h, c, k == 1)
		if f, ok := v.blunt(out, h, c, k == 1); ok {
			if !e.tip || f.rms < rimSharp {
				e = f
			}
		}
		*[2]*end{&out.lo, &out.hi}[k] = e
	}
	return out.hi.s-out.lo.s > 5
}

// Limits for taking an end's edge for a rim.
const (
	rimLeast = 2.0      // mm radius: below it the ellipse is a few pixels
	rimRMS   = 0.4      // pixels; a true rim leaves 0.2 at most, a round nose of 3 mm 0.5
	rimSharp = 0.25     // pixels; a fit this close is a rim whatever the sides do
	rimShare = 0.7      // the body's radius a little way in must be near the rim's
	rimTurn  = 12 * deg // farther than any axis lies from the start
	rimSure  = 2 * deg  // a slope less sure than this is no help
	rimOpen  = 0.1      // sine of the angle of view; nearer to edge-on the ellipse could open either way
	rimIn    = 1.5      // mm from the end where the body's radius is compared
)

// blunt is an end as a rim, if a circle about the axis fits its edge: a round or
// pointed end is narrower a little way in than the circle that it looks like. The
// circle's slope is held to what is known of it; let go, it is a witness of the slope.
func (v view) blunt(out *solution, h halves, c crossing, high bool) (end, bool) {
	s := [2]float64{math.Inf(1), math.Inf(1)}
	for k, side := range h {
		if len(side) > 10 {
			s[k] = side[2].s // the third: single strays do not count
			if high {
				s[k] = side[len(side)-3].s
			}
		}
	}
	corner, inward := max(s[0], s[1]), rimIn
	if high {
		corner, inward = min(s[0], s[1]), -rimIn
	}
	if math.IsInf(corner, 0) {
		return end{}, false
	}
	l, r := at(h[0], corner+inward, readReach), at(h[1], corner+inward, readReach)
	if !l.ok || !r.ok || min(l.r, r.r) < rimLeast {
		return end{}, false
	}
	start := spot{s: corner, r: max(rimLeast, (l.r+r.r-(l.slope+r.slope)*inward)/2)}
	around := v.endRun(out.axis, out.skip, c, rimReach*start.r)
	held, ok := v.fitRim(out.axis, around, start, max(out.uSlope, rimDoubt))
	if !ok || held.rms > rimRMS || math.Abs(held.turn) > rimTurn ||
		held.r < rimShare*start.r || held.r > start.r/rimShare || math.Abs(held.s-corner) > 2+0.2*held.r {
		return end{}, false
	}
	e := end{s: held.s, r: held.r, u: math.Hypot(0.15, held.rms/2) * mmPerPixel(v, out.axis), rim: true, rms: held.rms}
	ray := r3.Unit(r3.Sub(r3.Add(out.axis.p, r3.Scale(held.s, out.axis.u)), v.cam.C))
	if math.Abs(r3.Dot(ray, out.axis.u)) > rimOpen {
		free, ok := v.fitRim(out.axis, around, start, anyTurn)
		if ok && free.rms < rimRMS && math.Abs(free.turn) < rimTurn && free.uTurn < rimSure {
			e.fit, e.slope = free, true
		}
	}
	return e, true
}

// An end is a tip, whatever circle would fit its edge, when the sides' r² runs to
// nought within tipRoot of where the edge crosses, and surely so (mm). Sides that
// lead to a rim run to nought at half its radius over their slope, farther off.
const (
	tipRoot = 0.6
	tipSure = 0.3
)

// tip is the station of a pointed or round end. A sharp tip lies where the ray
// that grazes it meets the axis; a round one ends a little before. r² near a tip
// is a parabola in s (exactly so for a sphere and for a cone), whose root is a
// second opinion that hangs on the sides alone; the two are weighed.
func (v view) tip(a axis, h halves, c crossing, high bool) end {
	mm := mmPerPixel(v, a)
	ray := math.Hypot(0.3, max(v.edge[c.i].sigma, v.edge[(c.i+1)%len(v.edge)].sigma)) * mm
	out := end{s: c.s, u: ray}
	sign := 1.0
	if high {
		sign = -1
	}
	const reach = 2.5 // mm
	var x, y, sure []float64
	for _, side := range h {
		for _, p := range side {
			if d := sign * (p.s - c.s); d > 0.3 && d < reach {
				u := math.Hypot(v.edge[p.i].sigma, edgeFloor)
				x, y, sure = append(x, d), append(y, p.r*p.r), append(sure, edgeFloor*edgeFloor/(u*u))
			}
		}
	}
	if len(x) < 10 {
		return out
	}
	var q [4]float64
	w := slices.Clone(sure)
	rms := 0.0
	for range 5 {
		var m [4][5]float64
		m[3][3] = 1
		resid := make([]float64, len(x))
		for k := range x {
			g := [3]float64{1, x[k], x[k] * x[k]}
			for i := range g {
				for j := range g {
					m[i][j] += w[k] * g[i] * g[j]
				}
				m[i][4] += w[k] * g[i] * y[k]
			}
		}
		var ok bool
		if q, ok = solve4(m); !ok {
			return out
		}
		for k := range x {
			resid[k] = math.Abs(y[k] - q[0] - q[1]*x[k] - q[2]*x[k]*x[k])
		}
		rms = max(1.4826*median(resid), 1e-3)
		for k := range w {
			w[k] = sure[k] / (1 + resid[k]*resid[k]/(4*rms*rms))
		}
	}
	disc := q[1]*q[1] - 4*q[0]*q[2]
	if disc <= 0 || q[1] <= 0 {
		return out
	}
	out.open = math.Sqrt(disc)
	root := -2 * q[0] / (q[1] + math.Sqrt(disc)) // the root that goes to -α/β as γ vanishes
	if math.Abs(root) > 1 {
		return out
	}
	// Carried from the sides by half their reach: the scatter of r² over its slope
	// at the tip, neighbours sharing noise.
	sides := 2 * rms / math.Sqrt(disc)
	a2, b2 := 1/(ray*ray), 1/(sides*sides+0.01)
	shift := root * b2 / (a2 + b2)
	out.s += sign * shift
	out.tip = math.Abs(root) < tipRoot && sides < tipSure
	out.u = math.Hypot(1/math.Sqrt(a2+b2), (root-shift)/2)
	return out
}
