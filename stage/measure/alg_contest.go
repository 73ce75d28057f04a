package measure

import (
	"cmp"
	"math"
	"slices"

	"scalewright/craft/limb"
)

// contest is a stretch of the axis about which the two sides do not agree.
type contest struct {
	reachOf
	by float64 // mm of radius
}

// Limits for taking two sides to contradict each other.
const (
	contestStep   = 1.0 // mm of the axis looked at together
	contestPx     = 3.0 // farther off than any edge of a side that bears the outline out
	contestLeast  = 2   // edge points of a side
	contestSaid   = 2.0 // mm: of a shorter one nothing is said
	contestRounds = 3   // of settling: what was hidden by one may show a next
	contestMost   = 0.4 // share of the axis that may be settled by leaving one side out
)

// saying is what the edge of one side says of a step of the axis.
type saying struct {
	n, near int
	gap     float64 // sum of gaps, mm
}

func (s saying) speaks() bool  { return s.n >= contestLeast }
func (s saying) bears() bool   { return 2*s.near >= s.n }
func (s saying) mean() float64 { return s.gap / float64(s.n) }

// placed is where along the axis a ray touches, in steps, and on which side; step -1 where
// it touches nothing.
type placed struct{ step, side int }

// sayings are those of both sides, step by step from the first joint on, and where each
// ray belongs.
func (f *fitting) sayings() (all [][2]saying, rays []placed) {
	lo, hi := f.form.joints[0].s, f.form.joints[len(f.form.joints)-1].s
	all, rays = make([][2]saying, int((hi-lo)/contestStep)+1), make([]placed, len(f.rays))
	parts, most := f.form.parts(), f.form.most()
	for k := range f.rays {
		p := limb.PassOf(f.axis.p, f.axis.u, f.cam.C, f.rays[k].d)
		m := touches(parts, &p, most)
		if !m.ok {
			rays[k].step = -1
			continue
		}
		at := placed{step: min(max(int((m.at.s-lo)/contestStep), 0), len(all)-1)}
		if p.Side == limb.Right {
			at.side = 1
		}
		rays[k] = at
		s := &all[at.step][at.side]
		s.n++
		s.gap += m.gap
		if math.Abs(m.gap)*f.cam.F < contestPx*p.Depth {
			s.near++
		}
	}
	return all, rays
}

// contests lists where one side's edge lies off the outline while the other speaks for it,
// or both lie off it, and the edge points of the side that lies farther out: a printed line,
// a shadow or the ruler makes a body wider on one side, and hardly anything makes it
// narrower.
func (f *fitting) contests() (all []contest, outer []int) {
	say, rays := f.sayings()
	lo := f.form.joints[0].s
	out := make([]int, len(say)) // the side that lies out; -1 where there is no contest
	for i, s := range say {
		a, b := s[0], s[1]
		out[i] = -1
		if !a.speaks() || !b.speaks() || a.bears() && b.bears() {
			continue
		}
		if out[i] = 0; b.mean() > a.mean() {
			out[i] = 1
		}
		from := lo + float64(i)*contestStep
		all = append(all, contest{reachOf{from, from + contestStep}, math.Abs(a.mean() - b.mean())})
	}
	for k, at := range rays {
		if at.step >= 0 && out[at.step] == at.side {
			outer = append(outer, f.rays[k].i)
		}
	}
	return joined(all), outer
}

// settleContests leaves out what one side alone shows, and reports whether there was any.
func (f *fitting) settleContests(out *solution) bool {
	all, outer := f.contests()
	long := 0.0
	for _, c := range all {
		long += c.hi - c.lo
	}
	if len(all) == 0 || out.settled >= contestRounds {
		return false
	}
	out.settled++
	out.contests = append(out.contests, all...)
	if long > contestMost*(out.hi.s-out.lo.s) { // the axis itself may be wrong
		return false
	}
	if out.oneSided == nil {
		out.oneSided = make([]bool, len(f.edge))
	}
	for _, i := range outer {
		out.oneSided[i] = true
	}
	return len(outer) > 0
}

// joined are stretches of several rounds, in order, those that touch taken together.
func joined(all []contest) (out []contest) {
	all = slices.Clone(all)
	slices.SortFunc(all, func(a, b contest) int { return cmp.Compare(a.lo, b.lo) })
	for _, c := range all {
		if n := len(out); n > 0 && c.lo <= out[n-1].hi+contestStep/2 {
			out[n-1].hi, out[n-1].by = max(out[n-1].hi, c.hi), max(out[n-1].by, c.by)
			continue
		}
		out = append(out, c)
	}
	return out
}
