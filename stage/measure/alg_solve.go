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
	rounds int      // of solving; 0: six
	rims   *[2]bool // which ends are rims, low and high; nil: to be found
	marked []marked // features on the body, pixels

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
		if !v.ends(&out, set.rims) {
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

// kept is the edge without the points to skip.
func (v view) kept(skip []bool) []edgePoint {
	edge := slices.Clone(v.edge)
	for i := range edge {
		edge[i].good = edge[i].good && !skip[i]
	}
	return edge
}

// rest returns slope and height of the axis at its origin.
func (v view) rest(out *solution, set settings) (slope, height float64, ok bool) {
	var pts []spot
	var moment, weight float64
	var blind []spot // stations not seen, with the most that shows there
	for _, st := range out.prof {
		s := out.datum(st.s, set.flip)
		for _, h := range set.hidden {
			if h.from <= s && s <= h.to {
				st.seen, st.most = notSeen, 0
			}
		}
		if st.s < out.lo.s || st.s > out.hi.s {
			continue
		}
		if st.seen == notSeen {
			blind = append(blind, spot{s: st.s, r: st.most})
			continue
		}
		pts = append(pts, spot{s: st.s, r: st.r})
		moment += st.s * st.r * st.r
		weight += st.r * st.r
	}
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
	rise, grade, apart, hullOK := restLine(pts, moment/weight)
	hullSlope := math.Atan(grade)

	rimSlope, uRim := v.ringSlope(out, set.photo)
	out.uHeight = restDoubt
	out.rimTilt, out.hullTilt = rimSlope, hullSlope
	gap := slices.Contains(out.skip, true) || mayTouch(blind, rise, grade)
	complete := !gap || len(set.rests) > 0
	uHull := math.Sqrt2 * restDoubt / max(apart, 1)
	out.differ = complete && hullOK && uRim < rimSure &&
		math.Abs(rimSlope-hullSlope) > max(3*math.Hypot(uRim, uHull), 1*deg)
	switch {
	case complete && hullOK:
		// Both have their say, each by its sureness; where they do not agree, the mat
		// has the last word: nothing sinks into it, and streaks of light on polished
		// metal look like rings.
		w, m := 1/(uHull*uHull), 0.0
		if uRim < rimSure && !out.differ {
			m = 1 / (uRim * uRim)
		}
		slope := (w*hullSlope + m*rimSlope) / (w + m)
		out.from, out.uSlope = slopeRests, 1/math.Sqrt(w+m)
		out.touch = touchStation(pts, slope)
		return slope, restHeight(pts, slope), true
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

// turned reports whether the two sides agree over most of what is seen of them:
// an axis can be laid through anything.
func (o *solution) turned() bool {
	agree, differ := 0, 0
	for _, st := range o.prof {
		switch {
		case st.seen == bothSides:
			agree++
		case st.seen == oneSide || st.most > 0:
			differ++
		}
	}
	return agree >= 10 && agree > differ
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
