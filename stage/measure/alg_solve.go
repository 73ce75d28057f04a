package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Rest is a place where something that stands out of the body touches the mat:
// a fin's tip, a flange, a stand.
type Rest struct {
	StationMM float64 // station of the touching place, mm
	ReachMM   float64 // how far below the axis it lies when the body lies as photographed, mm
	U         float64 // standard uncertainty of the reach, mm
}

// slopeFrom says what the slope of the axis rests on.
type slopeFrom uint8

const (
	slopeGuessed slopeFrom = iota // nothing told it: level, give or take
	slopeRests                    // two touching places
	slopeRim                      // the ellipses of rims and rings
)

// solution is a body found in one view.
type solution struct {
	pose              pose
	axis              axis // origin at the pose's first image point
	from              slopeFrom
	uSlope            float64 // rad
	uHeight           float64 // mm, of the axis over the touching place
	touch             float64 // station about which a change of slope turns the axis
	lo, hi            end
	prof              []station // stations from the axis' origin
	skip              []bool
	differ            bool    // the rim's slope and the touching places' do not agree
	rimTilt, hullTilt float64 // slopes by rings and by rests
}

// end is one end of the body.
type end struct {
	s     float64 // station from the axis' origin, mm
	r     float64 // radius there: of a blunt end, or 0
	u     float64 // standard uncertainty of the station, mm
	open  float64 // of a tip: how fast r² rises from it, mm
	rim   bool
	fit   rim  // of a rim, its slope let go
	slope bool // that fit is sure enough to tell the slope
}

// Doubts of a body at rest: how true the mat and how sharp the touching place
// are, and what is known of the slope of one whose ends and rests say nothing
// (objects on a mat lie within some 5° of level).
const (
	restDoubt  = 0.1             // mm
	levelDoubt = 2.5 * deg       // rad
	rimDoubt   = 0.1 * deg       // rad, least of a slope by a rim
	deg        = math.Pi / 180.0 // radians
)

// gapLeast is the longest stretch of stations, mm, that may be missing from a
// profile that is still taken to hold all that touches the mat.
const gapLeast = 4.0

// settings of one solve.
type settings struct {
	photo  *picture // for rings between the sides; nil: not looked at
	rests  []Rest   // stations from the datum end
	hidden []hidden // declared, stations from the datum end
	flip   bool     // the datum end is the high end of the axis' own stations
	rounds int      // of solving; 0: six

	// Displacements for the doubt that hangs on how the body lies.
	raise, lean float64 // mm, rad
}

type hidden struct{ from, to float64 }

// solve finds the axis and the profile: sides by symmetry, height and slope by
// how the body rests and by the rims of its ends, in turns until they agree.
func (v view) solve(start pose, set settings) (solution, bool) {
	out := solution{pose: start, uSlope: anyTurn}
	for k := range rounds(set) {
		q, ok := v.symmetric(out.pose, k > 1 || set.rounds > 0)
		if !ok {
			return out, false
		}
		a, ok := q.axis(v.cam)
		if !ok {
			return out, false
		}
		out.pose, out.axis = q, a
		out.skip = v.wings(a)
		if !v.ends(&out) {
			return out, false
		}
		out.prof = v.profile(a, out.skip, out.lo.s, out.hi.s)
		if len(out.prof) < 10 {
			return out, false
		}
		slope, height, ok := v.rest(&out, set)
		if !ok {
			return out, false
		}
		slope, height = slope+set.lean, height+set.raise-set.lean*out.touch
		b, _ := v.cam.OnPlane(q.b, q.hb)
		far := r3.Norm(r3.Sub(b, a.p))
		out.pose.ha = height
		out.pose.hb = height + far*math.Sin(slope)
	}
	// The last heights are those the profile was read with, to a hundredth.
	return out, true
}

func rounds(set settings) int {
	if set.rounds > 0 {
		return set.rounds
	}
	return 6
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
			e = f
		}
		*[2]*end{&out.lo, &out.hi}[k] = e
	}
	return out.hi.s-out.lo.s > 5
}

// Limits for taking an end's edge for a rim.
const (
	rimLeast = 2.0      // mm radius: below it the ellipse is a few pixels
	rimRMS   = 0.4      // pixels; a true rim leaves 0.2 at most, a round nose of 3 mm 0.5
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
	e := end{s: held.s, r: held.r, u: math.Hypot(0.15, held.rms/2) * mmPerPixel(v, out.axis), rim: true}
	ray := r3.Unit(r3.Sub(r3.Add(out.axis.p, r3.Scale(held.s, out.axis.u)), v.cam.C))
	if math.Abs(r3.Dot(ray, out.axis.u)) > rimOpen {
		free, ok := v.fitRim(out.axis, around, start, anyTurn)
		if ok && free.rms < rimRMS && math.Abs(free.turn) < rimTurn && free.uTurn < rimSure {
			e.fit, e.slope = free, true
		}
	}
	return e, true
}

// kept is the edge without the points to skip.
func (v view) kept(skip []bool) []edgePoint {
	edge := slices.Clone(v.edge)
	for i := range edge {
		edge[i].good = edge[i].good && !skip[i]
	}
	return edge
}

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
	out.u = math.Hypot(1/math.Sqrt(a2+b2), (root-shift)/2)
	return out
}

// rest returns slope and height of the axis at its origin.
func (v view) rest(out *solution, set settings) (slope, height float64, ok bool) {
	var pts []spot
	var moment, weight float64
	unseen, longest := 0, 0
	for _, st := range out.prof {
		s := out.datum(st.s, set.flip)
		for _, h := range set.hidden {
			if h.from <= s && s <= h.to {
				st.seen = notSeen
			}
		}
		if st.seen == notSeen || st.s < out.lo.s || st.s > out.hi.s {
			unseen++
			longest = max(longest, unseen)
			continue
		}
		unseen = 0
		pts = append(pts, spot{s: st.s, r: st.r})
		moment += st.s * st.r * st.r
		weight += st.r * st.r
	}
	gap := slices.Contains(out.skip, true) || float64(longest)*stationStep > gapLeast
	for _, r := range set.rests {
		pts = append(pts, spot{s: out.own(r.StationMM, set.flip), r: r.ReachMM})
	}
	slices.SortStableFunc(pts, func(a, b spot) int {
		switch {
		case a.s < b.s:
			return -1
		case a.s > b.s:
			return 1
		}
		return 0
	})
	if len(pts) < 5 || weight == 0 {
		return 0, 0, false
	}
	rise, grade, hullOK := restLine(pts, moment/weight)
	hullSlope := math.Atan(grade)

	rimSlope, uRim := v.ringSlope(out, set.photo)
	out.uHeight = restDoubt
	out.rimTilt, out.hullTilt = rimSlope, hullSlope
	complete := !gap || len(set.rests) > 0
	out.differ = complete && hullOK && uRim < rimSure && math.Abs(rimSlope-hullSlope) > max(3*math.Hypot(uRim, 0.2*deg), 1*deg)
	switch {
	case complete && hullOK && !out.differ:
		out.touch = moment / weight
		out.from, out.uSlope = slopeRests, math.Sqrt2*restDoubt/max(20, out.hi.s-out.lo.s)*2
		return hullSlope, rise * math.Cos(hullSlope), true
	case uRim < rimSure:
		out.from, out.uSlope = slopeRim, uRim
		out.touch = touchStation(pts, rimSlope)
		return rimSlope, restHeight(pts, rimSlope), true
	}
	out.from, out.uSlope, out.touch = slopeGuessed, levelDoubt, touchStation(pts, 0)
	return 0, restHeight(pts, 0), true
}

// ringSlope is the slope of the axis that the rims of the ends and the rings
// between them ask for, or a doubt beyond use.
func (v view) ringSlope(out *solution, photo *picture) (slope, u float64) {
	normal := r3.Unit(r3.Cross(out.axis.u, r3.Sub(v.cam.C, out.axis.p)))
	sum, weight := 0.0, 0.0
	say := func(turn, u float64) {
		w := 1 / (u*u + rimDoubt*rimDoubt)
		sum += w * math.Asin(r3.Rotate(out.axis.u, turn, normal).Z)
		weight += w
	}
	for _, e := range [2]end{out.lo, out.hi} {
		if e.slope {
			say(e.fit.turn, e.fit.uTurn)
		}
	}
	if photo != nil {
		if turn, u, ok := ringTurn(v.unroll(photo, out.axis, out.prof).rings()); ok {
			say(-turn, u)
		}
	}
	if weight == 0 {
		return 0, math.Inf(1)
	}
	return sum / weight, 1 / math.Sqrt(weight)
}

// datum turns a station of the axis into one from the datum end, own back.
func (o *solution) datum(s float64, flip bool) float64 {
	if flip {
		return o.hi.s - s
	}
	return s - o.lo.s
}

func (o *solution) own(s float64, flip bool) float64 {
	if flip {
		return o.hi.s - s
	}
	return s + o.lo.s
}
