package measure

import (
	"cmp"
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
	incline           float64 // slope of the axis as rests and rings have it, rad
	touch             float64 // station about which a change of slope turns the axis
	lo, hi            end
	prof              []station // stations from the axis' origin
	skip              []bool
	form              form
	scale             float64    // of the fit's residuals
	uForm             []float64  // of the form's radius at those stations, mm
	told              []bool     // stations of the form that the edge tells, stationStep apart
	rests             []touching // where the body touches the mat
	pull              pull       // what is known of its slope besides
	hull              []joint    // the two places that a line from below touches
	differ            bool       // the rims' slope and the touching places' do not agree
	contests          []contest  // stretches about which the sides do not agree
	settled           int        // rounds of settling them
	oneSided          []bool     // edge points of the outer side there
	fins              []bump     // where two of three fins stand out, the third up
	denied            []reachOf  // stretches that do not touch the mat by their radius
	further           float64    // mm, outside one side another edge shows
	rimTilt, hullTilt float64    // slopes by rings and by rests
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

// gapLeast is the longest stretch of stations, mm, that may be blind in a profile
// that is still taken to hold all that touches the mat: the foot of a step, a
// groove. restClear is how far below the line of rest what shows must stay.
const (
	gapLeast  = 4.0
	restClear = 0.5
)

// wingLeast is how many edge points what stands out of a body has at least, that might
// hold it up: 6 mm of edge. The rim of an end can give a dozen.
const wingLeast = 30

func count(set []bool) (n int) {
	for _, on := range set {
		if on {
			n++
		}
	}
	return n
}

// mayTouch reports whether something at the stations not seen might reach the
// mat: nothing shows there over a long stretch, or what shows comes near it.
func mayTouch(blind []spot, rise, grade float64) bool {
	dark := 0.0
	for k, p := range blind {
		if k > 0 && p.s-blind[k-1].s > 1.5*stationStep {
			dark = 0
		}
		if p.r > rise+grade*p.s-restClear {
			return true
		}
		if p.r == 0 {
			if dark += stationStep; dark > gapLeast {
				return true
			}
		}
	}
	return false
}

// settings of one solve.
type settings struct {
	photo  *picture // for rings between the sides; nil: not looked at
	rests  []Rest   // stations from the datum end
	hidden []hidden // declared, stations from the datum end
	flip   bool     // the datum end is the high end of the axis' own stations
	marked []marked // features on the body, pixels
}

type hidden struct{ from, to float64 }

// solveRounds is how often sides, ends and rest are found in turn before all is fitted
// together.
const solveRounds = 5

// finsRound is the round in which fins are looked for: the axis lies well enough by then.
const finsRound = 2

// solve finds the axis and the outline: sides by symmetry, height and slope by how the
// body rests and by the rims of its ends, in turns; then all together from the edge.
func (v view) solve(start pose, set settings) (solution, bool) {
	out := solution{pose: start, uSlope: anyTurn}
	for k := range solveRounds {
		q, ok := v.symmetric(out.pose, k > 1)
		if !ok {
			return out, false
		}
		a, ok := q.axis(v.cam)
		if !ok {
			return out, false
		}
		out.pose, out.axis = q, a
		out.skip = v.wings(a)
		v.finned(a, out.fins, out.skip)
		if !v.ends(&out) {
			return out, false
		}
		out.prof = v.profile(a, out.skip, out.lo.s, out.hi.s)
		if len(out.prof) < 10 {
			return out, false
		}
		if k == finsRound {
			out.fins = v.findFins(&out, set.photo)
		}
		if !v.rest(&out, set) {
			return out, false
		}
		b, _ := v.cam.OnPlane(q.b, q.hb)
		far := r3.Norm(r3.Sub(b, a.p))
		out.pose.ha = out.height()
		out.pose.hb = out.pose.ha + far*math.Sin(out.incline)
	}
	return out, v.finish(&out, set, v.firstForm(&out))
}

// kept is the edge without the points to skip.
func (v view) kept(skip []bool) []edgePoint {
	edge := slices.Clone(v.edge)
	for i := range edge {
		edge[i].good = edge[i].good && !skip[i]
	}
	return edge
}

// places are the body's places that may touch the mat, by rising stations, and those
// stations that are not seen, with the most that shows there.
func (o *solution) places(set settings) (pts, blind []spot) {
	declared := func(s float64) bool {
		s = o.datum(s, set.flip)
		return slices.ContainsFunc(set.hidden, func(h hidden) bool { return h.from <= s && s <= h.to })
	}
	for _, st := range o.prof {
		if st.s < o.lo.s || st.s > o.hi.s {
			continue
		}
		seen, r := st.seen != notSeen, st.r
		if k := int(math.Round((st.s - o.lo.s) / stationStep)); o.told != nil && k < len(o.told) {
			seen = o.told[k]
			r, _ = o.form.at(st.s)
		}
		if b, in := o.among(st.s); in { // behind fins the body goes on
			pts = append(pts, spot{s: st.s, r: b.body(st.s)})
			continue
		}
		switch {
		case o.denies(st.s):
		case declared(st.s):
			blind = append(blind, spot{s: st.s})
		case r > o.mostRead(st.s) || o.finned(joint{st.s, r}):
		case !seen:
			blind = append(blind, spot{s: st.s, r: st.most})
		default:
			pts = append(pts, spot{s: st.s, r: r})
		}
	}
	if o.told != nil {
		for _, j := range o.form.joints {
			if k := int(math.Round((j.s - o.lo.s) / stationStep)); k >= 0 && k < len(o.told) && o.told[k] && !declared(j.s) && !o.denies(j.s) && j.r <= o.mostRead(j.s) && !o.finned(j) {
				pts = append(pts, spot{s: j.s, r: j.r})
			}
		}
	}
	slices.SortStableFunc(pts, func(a, b spot) int { return cmp.Compare(a.s, b.s) })
	return pts, blind
}

// overRead is how much wider, mm, than both sides were read the outline may be where the
// body is taken to touch the mat, and readNear how far along the axis it is asked.
const (
	overRead = 2.0
	readNear = 3.0
)

// mostRead is the widest that the body may be at a station by how its sides were read
// there, the outline apart: a spike of it must not hold the body up.
func (o *solution) mostRead(s float64) float64 {
	most := 0.0
	for _, st := range o.prof {
		if math.Abs(st.s-s) <= readNear {
			most = max(most, st.r, st.most)
		}
	}
	if most == 0 {
		return math.Inf(1)
	}
	return most + overRead
}

// rest finds where the body touches the mat and what its slope is held to.
func (v view) rest(out *solution, set settings) bool {
	pts, blind := out.places(set)
	var moment, weight float64
	for _, p := range pts {
		moment += p.s * p.r * p.r
		weight += p.r * p.r
	}
	if len(pts) < 5 || weight == 0 {
		return false
	}
	for _, r := range set.rests {
		pts = append(pts, spot{s: out.own(r.StationMM, set.flip), r: r.ReachMM})
	}
	feet := map[spot]float64{}
	for _, b := range out.fins {
		if foot, ok := v.footed(out.axis, b); ok {
			pts, feet[foot] = append(pts, foot), finDoubt*foot.r
		}
	}
	slices.SortStableFunc(pts, func(a, b spot) int { return cmp.Compare(a.s, b.s) })
	a, b, hullOK := restLine(pts, moment/weight)
	out.hull = nil
	if hullOK {
		out.hull = []joint{{a.s, a.r}, {b.s, b.r}}
	}
	apart := b.s - a.s
	grade := (b.r - a.r) / max(apart, 1e-9)
	rise := a.r - grade*a.s
	hullSlope := math.Atan(grade)

	rimSlope, uRim := v.ringSlope(out, set.photo)
	out.uHeight = restDoubt
	gap := len(out.denied) > 0 || count(out.skip) > wingLeast || mayTouch(blind, rise, grade)
	complete := !gap || len(set.rests) > 0 || len(feet) > 0
	uHull := math.Hypot(evenDoubt(apart), math.Hypot(feet[a], feet[b])) / max(apart, 1)
	differ := math.Abs(rimSlope-hullSlope) > max(3*math.Hypot(uRim, uHull), 1*deg)
	var slope float64
	switch {
	case complete && hullOK:
		// Both have their say, each by its sureness; where they do not agree, the mat
		// has the last word: nothing sinks into it, and streaks of light on polished
		// metal look like rings.
		w, m := 1/(uHull*uHull), 0.0
		out.pull = pull{}
		if uRim < rimSure && !differ {
			m = 1 / (uRim * uRim)
			out.pull = pull{rimSlope, uRim}
		}
		slope = (w*hullSlope + m*rimSlope) / (w + m)
		out.from, out.uSlope = slopeRests, 1/math.Sqrt(w+m)
		out.rests = []touching{{joint{a.s, a.r}, restDoubt, feet[a]}, {joint{b.s, b.r}, restDoubt, feet[b]}}
		out.touch = touchStation(pts, slope).s
		out.incline = slope
		return true
	case uRim < rimSure:
		slope = rimSlope
		out.from, out.uSlope = slopeRim, uRim
	default:
		slope = 0
		out.from, out.uSlope = slopeGuessed, levelDoubt
	}
	out.pull = pull{slope, out.uSlope}
	if out.told != nil { // the rims have had their say
		slope = math.Asin(out.axis.u.Z)
	}
	t := touchStation(pts, slope)
	out.rests, out.touch, out.incline = []touching{{joint{t.s, t.r}, restDoubt, feet[t]}}, t.s, slope
	return true
}

// height is that of the axis at its origin, at rest.
func (o *solution) height() float64 {
	sin, cos := math.Sincos(o.incline)
	h := math.Inf(-1)
	for _, t := range o.rests {
		h = max(h, t.at.r*cos-t.at.s*sin)
	}
	return h
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
