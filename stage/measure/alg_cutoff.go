package measure

import (
	"cmp"
	"math"
	"slices"

	"scalewright/craft/limb"
	"scalewright/finding"
)

// cutOffs are radii, mm, at which a narrow end is tried to be cut off. The last pixels of
// a needle hardly tell whether it runs to a point.
var cutOffs = [...]float64{0, 0.1, 0.2, 0.3, 0.45, 0.6, 0.8, 1, 1.3, 1.6, 2}

// roundCut is the widest that a round nose is taken to be cut off, mm.
const roundCut = 0.6

// cutOffReach is how far an end is looked for, mm.
const cutOffReach = 10.0

// endSure is twice the standard uncertainty of an end's station, mm, from which on it is
// worth a word: it is 4 mm on a piece six times as large.
const endSure = 0.6

// checkEnds says where the photograph hardly tells where the body ends.
func checkEnds(o *solution, set settings, in Input, list *finding.List) {
	for _, e := range [2]end{o.lo, o.hi} {
		if 2*e.u > endSure {
			list.Add(finding.New("end-unsure", in.PhotoAt, finding.Args{
				"at": finding.Size(o.datum(e.s, set.flip)), "u": finding.Size(2 * e.u),
			}))
		}
	}
}

// cutOff is how unsure an end is by all the ways that it may be cut off, each as likely as
// the edge bears it out. A cone is put where it ends by their mean; a round nose runs on to
// where its arc ends.
func (f *fitting) cutOff(last bool) (u float64) {
	n := len(f.form.joints)
	end, next, first := 0, 1, 0
	if last {
		end, next, first = n-1, n-2, max(0, n-3)
	}
	if f.form.joints[end].r > cutOffs[len(cutOffs)-1] || n < 3 {
		return 0
	}
	f.narrow[min(end, 1)] = true
	f.passes = make([]limb.Pass, len(f.rays))
	for k := range f.rays {
		f.passes[k] = limb.PassOf(f.axis.p, f.axis.u, f.cam.C, f.rays[k].d)
	}
	_, at := f.residuals()
	var all []trial
	round := f.form.spans[min(end, next)].kind == arcSpan && f.form.joints[end].r <= roundCut
	radii := cutOffs[:]
	if own := f.form.joints[end].r; !slices.Contains(radii, own) {
		radii = append(slices.Clone(radii), own)
	}
	for _, r := range radii {
		if r >= f.form.joints[next].r-leastRadius || round && r > roundCut {
			continue
		}
		t := trial{first: first, last: first + 2, form: f.form.stretch(first, first+2)}
		if t.form.joints[end-first].r > r {
			t.form.runOut(end-first, next-first)
		}
		t.form.cutOff(end-first, next-first, r)
		if math.Abs(t.form.joints[end-first].s-f.form.joints[end].s) > cutOffReach {
			continue // nearly a cylinder: it runs out nowhere near
		}
		t.held[0], t.held[1] = !last, last
		all = append(all, t)
	}
	f.judge(all, at, math.Inf(-1))
	f.passes = nil
	if len(all) < 2 {
		return 0
	}
	best := slices.MaxFunc(all, func(a, b trial) int { return cmp.Compare(a.gain, b.gain) }).gain
	var w, s, ss float64
	for _, t := range all {
		v := math.Exp(t.gain - best)
		x := t.form.joints[end-first].s
		w, s, ss = w+v, s+v*x, ss+v*x*x
	}
	s /= w
	if round {
		own := f.form.joints[end].s
		return math.Sqrt(max(0, ss/w-2*s*own+own*own))
	}
	nearest := slices.MinFunc(all, func(a, b trial) int {
		return cmp.Compare(math.Abs(a.form.joints[end-first].s-s), math.Abs(b.form.joints[end-first].s-s))
	})
	copy(f.form.joints[first:], nearest.form.joints)
	copy(f.form.spans[first:], nearest.form.spans)
	f.home = f.form.clone()
	return math.Sqrt(max(0, ss/w-s*s))
}

// cutOff cuts the form off at an end where its span has a radius.
func (g *form) cutOff(end, next int, r float64) {
	a, b := g.joints[end], g.joints[next]
	if a.r >= r {
		return
	}
	lo, hi := a.s, b.s // the span rises from a to b
	for range 40 {
		m := (lo + hi) / 2
		if y, _ := g.at(m); y < r {
			lo = m
		} else {
			hi = m
		}
	}
	k := min(end, next)
	if s := &g.spans[k]; s.kind == arcSpan {
		c := arcOver(g.joints[k], g.joints[k+1], s.rise)
		half := math.Hypot(b.s-lo, b.r-r) / 2
		s.rise = math.Copysign(math.Abs(c.bend)-math.Sqrt(max(0, c.bend*c.bend-half*half)), s.rise)
	}
	g.joints[end] = joint{lo, r}
}
