package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/limb"
)

// A groove a few pixels wide is bridged when an object is parted from the mat. Where the
// body's outline is known it is looked for from there inwards: the mat shows within it, on
// both sides at the same stations and as deep.
const (
	letInDeep  = 2.0 // pixels, at least
	letInLevel = 1.5 // pixels, within which the outline lies at its shoulders
	letInWide  = 4   // pixels, at least
	letInSteep = 1.2 // times as deep as wide, at most: a narrower one is a gleam, or a cut that no tool turns
	letInGap   = 2   // pixels, at most, where a printed line hides it
)

// inlet is how far inwards from a point of an outline the mat shows.
type inlet struct {
	deep float64 // pixels
	ok   bool    // what is further in is body
	onBody
}

// onBody is where a point of an outline lies on the body.
type onBody struct {
	station float64
	side    int
	out     r2.Vec
	mm      float64 // for a pixel
	ok      bool    // on a side, away from the ends
}

// missed are the grooves that an outline bridges.
func (m ground) missed(v view, o *solution, pts []r2.Vec) []dent {
	in := m.inlets(v, o, pts)
	var sides [2][]dent
	for _, r := range runs(deeper(in), letInGap) {
		if d, ok := groovedRun(in, r); ok {
			k := in[r.from].side
			sides[k] = append(sides[k], d)
		}
	}
	return slices.DeleteFunc(paired(sides), func(g dent) bool { return g.deep > letInSteep*(g.to-g.from) })
}

// letIn lets grooves into an outline.
func (v view) letIn(o *solution, pts []r2.Vec, grooves []dent) []r2.Vec {
	out := slices.Clone(pts)
	for i, at := range v.places(o, pts) {
		for _, g := range grooves {
			if at.ok && at.station >= g.from && at.station <= g.to {
				out[i] = r2.Sub(pts[i], r2.Scale(g.deep/at.mm, at.out))
			}
		}
	}
	return resample(out, 1)
}

// within reports whether an edge point lies at one of the grooves.
func (v view) within(grooves []dent, o *solution, i int) bool {
	at := v.grazeAt(o, v.edge[i].at)
	return at.ok && slices.ContainsFunc(grooves, func(g dent) bool { return at.at.s >= g.from && at.at.s <= g.to })
}

// deeper is where the mat shows as far in as a groove at least, and no further than a groove reaches.
func deeper(in []inlet) []bool {
	out := make([]bool, len(in))
	for i, e := range in {
		out[i] = e.ok && e.deep >= letInDeep
	}
	return out
}

// groovedRun is the groove that a run of inlets shows: as deep along most of it, between level
// shoulders.
func groovedRun(in []inlet, r run) (dent, bool) {
	n := len(in)
	var d dent
	var deep []float64
	d.from, d.to = math.Inf(1), math.Inf(-1)
	for k := range r.n {
		i := (r.from + k) % n
		d.points = append(d.points, i)
		d.from, d.to = min(d.from, in[i].station), max(d.to, in[i].station)
		deep = append(deep, in[i].deep*in[i].mm)
	}
	if r.n < letInWide || d.to-d.from > grooveWide {
		return d, false
	}
	for k := 2; k < 6; k++ {
		before, after := in[(r.from-k+n)%n], in[(r.from+r.n-1+k)%n]
		if !before.ok || !after.ok || before.deep > letInLevel || after.deep > letInLevel {
			return d, false
		}
	}
	slices.Sort(deep)
	d.deep = deep[3*len(deep)/4] // a printed line in it may look like the body
	alike := 0
	for _, x := range deep {
		if math.Abs(x-d.deep) < 0.25*d.deep {
			alike++
		}
	}
	return d, 4*alike > r.n
}

// inlets looks inwards from all points of an outline.
func (m ground) inlets(v view, o *solution, pts []r2.Vec) []inlet {
	out := make([]inlet, len(pts))
	body, mat := make([][]colour, len(pts)), make([][]colour, len(pts))
	for i, at := range v.places(o, pts) {
		out[i].onBody = at
		body[i], mat[i] = m.bothSides(pts[i], at.out)
	}
	for i := range out {
		if e := &out[i]; e.onBody.ok {
			wide := int(grooveWide / e.mm)
			in, outside := about(body, i, wide), about(mat, i, wide/2)
			if len(outside) > 0 {
				e.deep, e.ok = m.inwards(pts[i], e.out, middle(in), middle(outside))
			}
		}
	}
	return out
}

// places are where the points of an outline lie on the body.
func (v view) places(o *solution, pts []r2.Vec) []onBody {
	parts, most := o.form.parts(), o.form.most()
	lo, hi := o.form.joints[0].s+grooveWide, o.form.joints[len(o.form.joints)-1].s-grooveWide
	across := r3.Cross(o.axis.u, r3.Sub(v.cam.C, o.axis.p))
	out := make([]onBody, len(pts))
	for i := range pts {
		at, dir := tangent(pts, i, 5)
		e := onBody{out: outwards(dir)}
		ray := v.cam.Ray(at)
		p := limb.PassOf(o.axis.p, o.axis.u, v.cam.C, ray)
		if g := touches(parts, &p, most); g.ok && g.at.s > lo && g.at.s < hi && math.Abs(g.out.Sin) < math.Sqrt2/2 {
			e.ok, e.station, e.mm = true, g.at.s, p.Depth/v.cam.F
		}
		if r3.Dot(ray, across) < 0 {
			e.side = 1
		}
		out[i] = e
	}
	return out
}

// bothSides are the colours a little within an edge and a little outside it, where no line is
// printed.
func (m ground) bothSides(at, out r2.Vec) (in, outside []colour) {
	for t := 2.0; t <= 4; t++ {
		in = append(in, m.alongEdge(at, out, -t))
		if !m.onLine(r2.Add(at, r2.Scale(t, out))) {
			outside = append(outside, m.alongEdge(at, out, t))
		}
	}
	return in, outside
}

// inwards is how far within an edge, pixels, the mat shows before the body does, and whether
// it does.
func (m ground) inwards(at, out r2.Vec, body, mat colour) (deep float64, ok bool) {
	d := body.minus(mat)
	if contrast(body, mat) < leastContrast {
		return 0, false
	}
	across := 2 * (lineHalf*m.perMM() + lineBlur) // a printed line, pixels
	seen, lined := 0, 0.0                         // places of the body in a row, pixels of them on a line
	for t := 0.0; t < againMost; t += edgeStep {
		c := m.alongEdge(at, out, -t)
		on := m.onLine(r2.Sub(at, r2.Scale(t, out)))
		like := c.minus(mat).dot(d) > d.dot(d)/2
		if off := c.minus(body); on { // hidden by the body, or not
			like = off.dot(off) < d.dot(d)/4
		}
		if !like {
			seen, lined = 0, 0
			continue
		}
		if seen == 0 && lined == 0 {
			deep = t
		}
		if on { // it may be as light as the body
			lined += edgeStep
		} else {
			seen++
		}
		if seen == 3 || lined > across {
			return deep, true
		}
	}
	return againMost, false
}

// about are all colours over so many places to either side of a closed list.
func about(all [][]colour, i, wide int) (near []colour) {
	n := len(all)
	for k := -wide; k <= wide; k++ {
		near = append(near, all[((i+k)%n+n)%n]...)
	}
	return near
}
