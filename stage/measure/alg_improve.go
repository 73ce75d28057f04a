package measure

import (
	"cmp"
	"math"
	"slices"

	"scalewright/craft/cores"
	"scalewright/craft/limb"
)

// trial is another form of a stretch of the outline: the joints before first and after
// last stay what and where they are, those between are replaced.
type trial struct {
	first, last int // joints of the form at the stretch's ends
	form        form
	held        [2]bool // the radius of the first and last joint stays
	gain        float64 // what it saves, in units of half a chi-squared
	plot        *plot   // where it is tried
}

// passesMost is how often the outline is looked over.
const passesMost = 12

// improve changes the outline's parts where that shortens its description: joints are
// left out and put in, lines bent and arcs straightened, slants made steps and steps
// slants. Each change is fitted to the rays that touch the stretch, its neighbours held.
// It looks where something has changed, and says where it changed something.
func (f *fitting) improve(where []reachOf) []reachOf {
	f.passes = make([]limb.Pass, len(f.rays))
	for k := range f.rays {
		f.passes[k] = limb.PassOf(f.axis.p, f.axis.u, f.cam.C, f.rays[k].d)
	}
	x, at := f.residuals()
	trials := slices.DeleteFunc(f.trials(x, at), func(t trial) bool {
		lo, hi := f.form.joints[t.first].s, f.form.joints[t.last].s
		return !slices.ContainsFunc(where, func(d reachOf) bool { return lo < d.hi && d.lo < hi })
	})
	f.judge(trials, at, leastGain)
	f.passes = nil
	return f.take(trials)
}

// judge fits all trials that may save more than so much.
func (f *fitting) judge(trials []trial, at []graze, least float64) {
	known := map[[2]int]*plot{}
	var plots []*plot
	for i := range trials {
		t := &trials[i]
		key := [2]int{t.first, t.last}
		if known[key] == nil {
			known[key] = &plot{first: t.first, last: t.last}
			plots = append(plots, known[key])
		}
		t.plot = known[key]
	}
	cores.Each(len(plots), func(i int) { f.survey(plots[i], at) })
	cores.Each(len(trials), func(i int) { f.try(&trials[i], least) })
}

// reachOf is a stretch of stations.
type reachOf struct{ lo, hi float64 }

// take puts the best trials in that do not touch each other.
func (f *fitting) take(trials []trial) (changed []reachOf) {
	slices.SortStableFunc(trials, func(a, b trial) int { return cmp.Compare(b.gain, a.gain) })
	var chosen []trial
	for _, t := range trials {
		if t.gain <= leastGain {
			break
		}
		if !slices.ContainsFunc(chosen, func(c trial) bool { return t.first < c.last && c.first < t.last }) {
			chosen = append(chosen, t)
		}
	}
	slices.SortFunc(chosen, func(a, b trial) int { return cmp.Compare(b.first, a.first) })
	for _, t := range chosen { // from the end on, so that indices stay true
		changed = append(changed, reachOf{f.form.joints[t.first].s, f.form.joints[t.last].s})
		f.form.joints = slices.Replace(f.form.joints, t.first, t.last+1, t.form.joints...)
		f.form.spans = slices.Replace(f.form.spans, t.first, t.last, t.form.spans...)
	}
	return changed
}

// leastGain is what a change must save at least, so that nothing goes to and fro.
const leastGain = 0.5

// stretch is the part of a form between two joints.
func (f *form) stretch(first, last int) form {
	return form{slices.Clone(f.joints[first : last+1]), slices.Clone(f.spans[first:last])}
}

// plot is a stretch of the outline as it is, before anything is tried there, fitted to the
// rays that touch it.
type plot struct {
	fitting
	first, last int     // joints at its ends
	now         float64 // what it costs, its words included
}

// words is what it takes to describe a form, in units of half a chi-squared: so much for each
// of its numbers, less for each high shoulder that is square, as most that are turned are, and two
// numbers less for each groove: it is told by where it begins and ends, and by its depth.
func (f *fitting) words() float64 {
	square := 0
	for i, s := range f.form.spans {
		a, b := f.form.joints[i].r, f.form.joints[i+1].r
		if s.kind == faceSpan && min(a, b) > 0 && math.Abs(b-a) > squareLeast && !f.form.slit(i-1) && !f.form.slit(i+1) {
			square++
		}
	}
	return f.perParam*(float64(f.unknowns().n)-2*float64(f.form.grooves())) - squareSaves*float64(square)
}

// slit reports whether a span is the floor of a pit too narrow to be turned.
func (g *form) slit(i int) bool {
	return i > 0 && i < len(g.spans)-1 && g.joints[i+1].s-g.joints[i].s < slitLeast &&
		g.joints[i].r < g.joints[i-1].r && g.joints[i+1].r < g.joints[i+2].r
}

// slitLeast is how wide a pit is at least that a tool turns, mm (common practice: parting tools
// are wider than half a millimetre).
const slitLeast = 0.5

// squareSaves is how much less a square shoulder takes, and squareLeast from what height on,
// mm: what is lower may be a chamfer.
const (
	squareSaves = 3.0
	squareLeast = 5.0
)

// survey measures a plot.
func (f *fitting) survey(p *plot, at []graze) {
	g := fitting{view: f.view, axis: f.axis, scale: f.scale}
	lo, hi := f.form.joints[p.first].s, f.form.joints[p.last].s
	for k := range f.rays {
		if s := at[k].at.s; at[k].ok && s >= lo && s <= hi {
			g.rays = append(g.rays, f.rays[k])
			g.passes = append(g.passes, f.passes[k])
		}
	}
	g.thin(trialRays)
	g.fixed = [2]bool{p.first > 0, p.last < len(f.form.joints)-1}
	g.form = f.form.stretch(p.first, p.last)
	g.home = g.form.clone()
	g.perParam = 0.5 * math.Log(float64(len(f.rays))/independent+1)
	p.fitting, p.now = g, g.cost()+g.words()
}

// try fits a trial and says what it saves, unless that cannot be more than so much.
func (f *fitting) try(t *trial, least float64) {
	g := t.plot.fitting
	g.form = t.form
	g.form.order()
	g.home = g.form.clone()
	g.narrow = t.held
	before := t.plot.now - g.words()
	if before <= least { // more words than any fit could save
		t.gain = math.Inf(-1)
		return
	}
	g.descend(4, holdPose)
	if t.gain = before - g.cost(); t.gain > -hopeless {
		g.descend(8, holdPose)
		t.gain = before - g.cost()
	}
	t.form = g.form
	n := len(f.form.joints)
	if t.first == 0 && t.form.joints[0].s < f.reach.lo || t.last == n-1 && t.form.joints[len(t.form.joints)-1].s > f.reach.hi {
		t.gain = math.Inf(-1)
	}
}

// hopeless is what a trial may cost after its first steps and still be followed.
const hopeless = 25.0

// trialRays is how many rays, about, a trial is fitted to.
const trialRays = 300

// thin leaves every so many rays, each with the say of those left out.
func (f *fitting) thin(about int) {
	n := len(f.rays) / about
	if n < 2 {
		return
	}
	k := 0
	for i := 0; i < len(f.rays); i += n {
		f.rays[k], f.passes[k] = f.rays[i], f.passes[i]
		f.rays[k].share = float64(n)
		k++
	}
	f.rays, f.passes = f.rays[:k], f.passes[:k]
}

// spanLeast is the shortest span, mm, that an edge can tell from its neighbours.
const spanLeast = 0.15

// tidy takes out spans that have shrunk to nothing, and straightens arcs that are lines
// for all that a maker can do.
func (f *fitting) tidy() {
	g := &f.form
	g.blunted()
	long := g.joints[len(g.joints)-1].s - g.joints[0].s
	for i := range g.spans {
		if s := &g.spans[i]; s.kind == arcSpan && math.Abs(arcOver(g.joints[i], g.joints[i+1], s.rise).bend) > flattest*long {
			*s = span{}
		}
	}
	for i := 0; i < len(g.spans); i++ {
		a, b := g.joints[i], g.joints[i+1]
		if math.Hypot(b.s-a.s, b.r-a.r) >= spanLeast || len(g.spans) == 1 {
			continue
		}
		mid := joint{(a.s + b.s) / 2, (a.r + b.r) / 2}
		switch { // ends stay ends
		case i == 0:
			mid = a
			if a.r == 0 && b.r > leastRadius {
				mid = b
			}
		case i == len(g.spans)-1:
			mid = b
			if b.r == 0 && a.r > leastRadius {
				mid = a
			}
		}
		g.joints[i] = mid
		g.joints = slices.Delete(g.joints, i+1, i+2)
		g.spans = slices.Delete(g.spans, i, i+1)
		// A face keeps both its joints at one station.
		if i > 0 && g.spans[i-1].kind == faceSpan {
			g.joints[i].s = g.joints[i-1].s
		}
		if i < len(g.spans) && g.spans[i].kind == faceSpan {
			g.joints[i].s = g.joints[i+1].s
			if i > 0 && g.spans[i-1].kind == faceSpan {
				g.spans[i-1].kind, g.spans[i].kind = lineSpan, lineSpan
			}
		}
		i = max(-1, i-2)
	}
	f.home = g.clone()
}
