package measure

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/limb"
	"scalewright/finding"
	"scalewright/unit"
)

// Two fins to either side of a body look like a flange of it in outline. But a flange
// hides the body and fins that stand below its middle do not: the body's own limb runs on
// between them. Such a body has three fins, lies on two of them and holds the third up;
// they stand 30° below the level of the axis.
const (
	finLeast  = 8.0  // mm along the axis
	finLong   = 1.8  // and of the body's radius
	finStands = 1.3  // of the body's radius about it
	finSwept  = 12.0 // mm that tips may stand before or behind it
	finSteep  = 0.2  // least slope of an edge that rises to it
	finOver   = 1.12 // of the body's radius, from which on they are none of it
	finWindow = 0.45 // of the length: what is longer is the body
	finStep   = 0.07 // least step of the logarithm of light at the limb between fins
	finLow    = 0.8  // of the radius read beside it, between which the limb is looked for
	finHigh   = 1.1
	finThick  = 2.0  // mm, half of a thick one
	finShows  = 0.93 // of the stretch must show it, on either side: by the photographs drawn 0.94 does, 0.92 does not
	finDoubt  = 0.04 // of its reach
	finBelow  = 30 * deg
)

// findFins lists the stretches, of the profile as it was read, where fins stand.
func (v view) findFins(out *solution, photo *picture) (all []bump) {
	if photo == nil {
		return nil
	}
	for _, b := range bumps(out.prof) {
		if b.clear.hi-b.clear.lo >= finLong*min(b.first, b.last) && b.over(out.prof) && v.limbRuns(photo, out.axis, b) {
			all = append(all, b)
		}
	}
	return all
}

// limbRuns reports whether the body's own limb shows along all of a stretch, alike on both
// sides, and a fin's edge between: straight steps of light.
func (v view) limbRuns(photo *picture, a axis, b bump) bool {
	across := r3.Unit(r3.Cross(a.u, r3.Sub(v.cam.C, a.p)))
	up := r3.Cross(across, a.u)
	edge := func(side, first, last float64) bool {
		return v.shows(photo, b, func(t float64) (at, out r3.Vec) {
			p := r3.Add(a.p, r3.Scale(b.from+t*(b.to-b.from), a.u))
			r := first*b.first + t*(last*b.last-first*b.first)
			cos := r / r3.Norm(r3.Sub(v.cam.C, p))
			e := r3.Add(r3.Scale(side*math.Sqrt(1-cos*cos), across), r3.Scale(cos, up))
			return r3.Add(p, r3.Scale(r, e)), e
		})
	}
	for first := finLow; first < finHigh; first += 0.04 {
		for last := finLow; last < finHigh; last += 0.04 {
			if edge(1, first, last) && edge(-1, first, last) {
				return v.stands(photo, a, b)
			}
		}
	}
	return false
}

// stands reports whether a fin stands up from the body along a stretch: one of its edges
// shows, somewhere over the body.
func (v view) stands(photo *picture, a axis, b bump) bool {
	level := r3.Unit(r3.Cross(a.u, r3.Vec{Z: 1}))
	up := r3.Cross(level, a.u)
	if up.Z < 0 {
		up = r3.Scale(-1, up)
	}
	least := min(b.first, b.last)
	for rise := least; rise < 2*least; rise++ {
		for aside := -finThick; aside <= finThick; aside += 0.25 {
			if v.shows(photo, b, func(t float64) (at, out r3.Vec) {
				p := r3.Add(a.p, r3.Scale(b.from+t*(b.to-b.from), a.u))
				return r3.Add(p, r3.Add(r3.Scale(rise, up), r3.Scale(aside, level))), level
			}) {
				return true
			}
		}
	}
	return false
}

// shows reports whether a step of light of one sign lies across a line along a stretch;
// the line gives its place at shares of the stretch, and which way lies across it.
func (v view) shows(photo *picture, b bump, line func(t float64) (at, out r3.Vec)) bool {
	const beside, far = 2.0, 6.0 // pixels
	count, more, less := 0.0, 0.0, 0.0
	trim := 0.15 * (b.clear.hi - b.clear.lo)
	for s := b.clear.lo + trim; s <= b.clear.hi-trim; s += stationStep {
		at, across := line((s - b.from) / (b.to - b.from))
		px, ok1 := v.cam.Project(at)
		qx, ok2 := v.cam.Project(r3.Add(at, r3.Scale(0.1, across)))
		if !ok1 || !ok2 {
			continue
		}
		out := r2.Unit(r2.Sub(qx, px))
		light := func(t float64) float64 {
			c := photo.at(px.X+t*out.X, px.Y+t*out.Y)
			return math.Log(c[0] + c[1] + c[2] + lightFloor)
		}
		step := light(beside) - light(-beside) - (light(far)-light(-far))*beside/far
		count++
		switch {
		case step > finStep:
			more++
		case step < -finStep:
			less++
		}
	}
	return count >= 8 && max(more, less) >= finShows*count
}

// footed is the place of the body, station and how far below the axis, where fins of a
// stretch touch the mat: their tips' rays meet the two planes through the axis in which
// they stand.
func (v view) footed(a axis, b bump) (foot spot, ok bool) {
	level := r3.Unit(r3.Cross(a.u, r3.Vec{Z: 1}))
	down := r3.Cross(level, a.u)
	if down.Z > 0 {
		down = r3.Scale(-1, down)
	}
	sin, cos := math.Sincos(finBelow)
	for _, side := range [2]float64{1, -1} {
		e := r3.Add(r3.Scale(side*cos, level), r3.Scale(sin, down))
		n := r3.Cross(a.u, e)
		var all []spot
		for i := range v.edge {
			d := v.sight[i].d
			if !v.edge[i].good || math.Abs(r3.Dot(d, n)) < 1e-6 {
				continue
			}
			x := r3.Sub(r3.Add(v.cam.C, r3.Scale(r3.Dot(r3.Sub(a.p, v.cam.C), n)/r3.Dot(d, n), d)), a.p)
			if s, r := r3.Dot(x, a.u), r3.Dot(x, e); b.near(s) && r > finStands*max(b.first, b.last) {
				all = append(all, spot{s: s, r: r})
			}
		}
		if len(all) < wingLeast {
			return spot{}, false
		}
		slices.SortFunc(all, func(p, q spot) int { return cmp.Compare(p.r, q.r) })
		tip := all[len(all)*9/10]
		foot.s, foot.r = foot.s+tip.s/2, foot.r+sin*tip.r/2
	}
	return foot, true
}

// finned marks the edge points of fins: all of their stretch, and what stands out near it.
func (v view) finned(a axis, all []bump, skip []bool) {
	const more = 1.0 // mm of the axis
	for i := range v.edge {
		p := limb.PassOf(a.p, a.u, v.cam.C, v.sight[i].d)
		for _, b := range all {
			in := b.from-more <= p.Station && p.Station <= b.to+more
			skip[i] = skip[i] || in || b.near(p.Station) && p.Near > finOver*max(b.first, b.last)
		}
	}
}

// finned reports whether a place of the outline stands where fins do.
func (o *solution) finned(j joint) bool {
	return slices.ContainsFunc(o.fins, func(b bump) bool { return b.near(j.s) && j.r > finOver*max(b.first, b.last) })
}

// among is the fins' stretch that a station lies in.
func (o *solution) among(s float64) (bump, bool) {
	for _, b := range o.fins {
		if b.from <= s && s <= b.to {
			return b, true
		}
	}
	return bump{}, false
}

// sayFins says what three fins were taken for.
func (v view) sayFins(o *solution, set settings, in Input, list *finding.List) {
	for _, b := range o.fins {
		foot, ok := v.footed(o.axis, b)
		if !ok {
			continue
		}
		from, to := o.datum(b.from, set.flip), o.datum(b.to, set.flip)
		list.Add(finding.New("fins-taken", in.PhotoAt, finding.Args{
			"from": finding.Size(unit.Length(min(from, to))), "to": finding.Size(unit.Length(max(from, to))),
			"at": finding.Size(unit.Length(o.datum(foot.s, set.flip))), "reach": finding.Size(unit.Length(foot.r)),
		}))
	}
}
