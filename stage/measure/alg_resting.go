package measure

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

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
