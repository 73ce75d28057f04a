package measure

import (
	"math"

	"scalewright/craft/limb"
)

// part is one thing of a form that a ray can touch: a span, or the rim of a joint.
type part struct {
	span, joint int // one of them is -1
	arc
	from, to float64 // turns of the normal where it begins and ends
	begin    joint   // the place that Slide is counted from at its beginning and end
	end      joint
	length   float64 // between its ends
	out      [2]limb.Normal
	lo, hi   float64 // stations between which it lies
	run      int     // parts of one run make a convex body
}

// parts lists all that may be touched, in order. Where the outline turns inwards, and
// round a hollow arc, the convex bodies on both sides end, each with a face of its own:
// what of a face lies inside the other is never touched first.
func (f *form) parts() []part {
	const square = math.Pi / 2
	n := len(f.joints)
	out := make([]part, 0, 3*n)
	run := 0
	rim := func(i int, from, to float64) {
		if j := f.joints[i]; from < to {
			out = append(out, part{span: -1, joint: i, arc: arc{s: j.s, r: j.r}, from: from, to: to, begin: j, end: j, run: run})
		}
	}
	last := -square
	for i := range f.joints {
		var body part
		next, hollow := square, false
		if i < n-1 {
			body = f.body(i)
			next, hollow = body.from, body.bend < 0
		}
		switch {
		case hollow:
			rim(i, last, square)
			run++
		case next < last:
			rim(i, last, square)
			run++
			rim(i, -square, next)
		default:
			rim(i, last, next)
		}
		if i == n-1 {
			break
		}
		if body.run = run; body.length > 0 && f.spans[i].kind != faceSpan {
			out = append(out, body)
		}
		last = body.to
		if hollow {
			run++
			last = -square
		}
	}
	for i := range out {
		q := &out[i]
		q.out = [2]limb.Normal{limb.NormalAt(q.from), limb.NormalAt(q.to)}
		q.lo, q.hi = q.s, q.s
		if q.span >= 0 {
			q.lo, q.hi = f.joints[q.span].s, f.joints[q.span+1].s
		}
	}
	return out
}

// body is span i as it may be touched.
func (f *form) body(i int) part {
	j, k := f.joints[i], f.joints[i+1]
	q := part{span: i, joint: -1, begin: j, end: k, length: math.Hypot(k.s-j.s, k.r-j.r)}
	q.arc = arc{s: j.s, r: j.r}
	switch f.spans[i].kind {
	case arcSpan:
		q.arc = arcOver(j, k, f.spans[i].rise)
		q.from, q.to = q.normal(j), q.normal(k)
		q.begin, q.end = joint{q.s, q.r}, joint{q.s, q.r}
	case faceSpan:
		q.from = math.Copysign(math.Pi/2, j.r-k.r)
		q.to = q.from
	default:
		q.from = limitTurn(math.Atan2(j.r-k.r, k.s-j.s))
		q.to = q.from
	}
	return q
}

// graze is where a ray comes nearest to a form.
type graze struct {
	gap  float64 // how far outside it passes, mm
	part int
	out  limb.Normal
	at   joint   // the place of the form
	f    float64 // of a line, how far along it
	ok   bool
}

// pastReach is how far, mm of the axis, from where it runs within the body's largest radius a
// ray may be told about a part.
const pastReach = 10.0

// most is the form's largest radius, its arcs' bellies guessed high.
func (f *form) most() (r float64) {
	for i, j := range f.joints {
		r = max(r, j.r)
		if i > 0 {
			r = max(r, max(j.r, f.joints[i-1].r)+f.spans[i-1].rise)
		}
	}
	return r
}

// touches finds the part that a ray comes nearest to. A body of revolution is the union
// of convex ones, each the hull of a run of parts without a hollow between them. The
// ray's gap to a convex body is the greatest of those to the cones that touch it, its gap
// to the union the least of those.
func touches(parts []part, p *limb.Pass, most float64) (m graze) {
	m.gap = math.Inf(1)
	reach := math.Abs(p.Lean)*most + pastReach
	run := graze{gap: math.Inf(-1)}
	for i := range parts {
		q := &parts[i]
		if i > 0 && q.run != parts[i-1].run {
			if run.ok && run.gap < m.gap {
				m = run
			}
			run = graze{gap: math.Inf(-1)}
		}
		if q.hi < p.Station-reach || q.lo > p.Station+reach {
			continue
		}
		if q.joint < 0 && q.bend == 0 {
			a, b := p.Slide(q.begin.s, q.begin.r, q.out[0]), p.Slide(q.end.s, q.end.r, q.out[1])
			if a <= 0 || b > 0 {
				continue
			}
			if g := p.Gap(q.s, q.r, 0, q.out[0]); g > run.gap {
				f := a / (a - b)
				at := joint{q.begin.s + f*(q.end.s-q.begin.s), q.begin.r + f*(q.end.r-q.begin.r)}
				run = graze{gap: g, part: i, out: q.out[0], at: at, f: f, ok: true}
			}
			continue
		}
		out, n := p.Touches(q.s, q.r, q.bend, q.out[0], q.out[1])
		for _, o := range out[:n] {
			g := p.Gap(q.s, q.r, q.bend, o)
			if q.bend < 0 && g < deepRun && passesRing(p, joint{q.s + q.bend*o.Sin, q.r + q.bend*o.Cos}) {
				continue
			}
			if g > run.gap {
				run = graze{gap: g, part: i, out: o, at: joint{q.s + q.bend*o.Sin, q.r + q.bend*o.Cos}, ok: true}
			}
		}
	}
	if run.ok && run.gap < m.gap {
		m = run
	}
	return m
}

// deepRun is the gap, mm, below which it is asked whether a ray that seems to run through a
// hollow does so: one that grazes it may pass the one ring it touches by a hair.
const deepRun = -0.25

// passesRing reports whether a ray passes outside a ring: on its far side, say, while on
// the near side it seems to run deep through it.
func passesRing(p *limb.Pass, j joint) bool {
	out, n := p.Touches(j.s, j.r, 0, limb.NormalAt(-math.Pi/2), limb.NormalAt(math.Pi/2))
	for _, o := range out[:n] {
		if p.Gap(j.s, j.r, 0, o) > 0 {
			return true
		}
	}
	return false
}
