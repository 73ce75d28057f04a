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
	by   float64 // mm of radius
	wide bool    // a side lies off the outline there
}

// Limits for taking two sides to contradict each other.
const (
	contestStep   = 1.0  // mm of the axis looked at together
	contestPx     = 3.0  // farther off than any edge of a side that bears the outline out
	contestApart  = 1.5  // pixels between two sides that do not agree
	contestLeast  = 2    // edge points of a side
	contestSaid   = 2.0  // mm: of a shorter one nothing is said
	contestRounds = 3    // of settling: what was hidden by one may show a next
	contestFar    = 30.0 // pixels: what lies farther off belongs to something else
	contestJoins  = 2    // steps that are not contested join what is
	contestMost   = 0.4  // share of the axis that may be settled by leaving one side out
)

// saying is what the edge of one side says of a step of the axis.
type saying struct {
	n, near, crisp int
	past, px       float64 // sums: mm past the axis, and pixels off the outline
}

func (s saying) speaks() bool  { return s.n >= contestLeast }
func (s saying) bears() bool   { return 2*s.near >= s.n }
func (s saying) mean() float64 { return s.past / float64(s.n) }

// wide reports whether either side lies off the outline.
func (s saying) wide(o saying) bool { return !s.bears() || !o.bears() }

// apart is how far, pixels, two sides lie apart.
func (s saying) apart(o saying) float64 { return math.Abs(s.px/float64(s.n) - o.px/float64(o.n)) }

// placed is where along the axis a ray passes it, in steps, and on which side; step -1 where
// it touches nothing.
type placed struct{ step, side int }

// sayings are those of both sides, weak edges too, step by step from the first joint on, and
// where each ray belongs.
func (f *fitting) sayings(rays []ray) (all [][2]saying, where []placed) {
	lo, hi := f.form.joints[0].s, f.form.joints[len(f.form.joints)-1].s
	all, where = make([][2]saying, int((hi-lo)/contestStep)+1), make([]placed, len(rays))
	parts, most := f.form.parts(), f.form.most()
	for k, r := range rays {
		p := limb.PassOf(f.axis.p, f.axis.u, f.cam.C, r.d)
		m := touches(parts, &p, most)
		if !m.ok || math.Abs(m.gap)*f.cam.F > contestFar*p.Depth {
			where[k].step = -1
			continue
		}
		at := placed{step: min(max(int((p.Station-lo)/contestStep), 0), len(all)-1)}
		if p.Side == limb.Right {
			at.side = 1
		}
		where[k] = at
		s := &all[at.step][at.side]
		px := m.gap * f.cam.F / p.Depth
		s.n++
		s.past += p.Near
		s.px += px
		if math.Abs(px) < contestPx {
			s.near++
		}
		if f.edge[r.i].sigma < contestCrisp {
			s.crisp++
		}
	}
	return all, where
}

// contests lists where the sides do not agree, the edge points of the side that is not
// believed there, and of the other one.
func (f *fitting) contests() (all []contest, wrong, right []int) {
	rays := slices.Concat(f.rays, f.weak)
	say, where := f.sayings(rays)
	at := f.contested(say)
	out := make([]int, len(say)) // the side that is not believed; -1 where there is no contest
	for i := range out {
		out[i] = -1
	}
	for i := 0; i < len(at); i++ {
		if !at[i] {
			continue
		}
		j, wide := i, false
		for k := i; k < len(at) && k-j <= contestJoins; k++ {
			if at[k] {
				j, wide = k, wide || say[k][0].wide(say[k][1])
			}
		}
		side := f.disbelieved(say, i, j, wide)
		for ; i <= j; i++ {
			out[i] = side
		}
	}
	lo := f.form.joints[0].s
	for i, s := range say {
		if at[i] && out[i] >= 0 {
			from := lo + float64(i)*contestStep
			all = append(all, contest{reachOf{from, from + contestStep}, math.Abs(s[0].mean() - s[1].mean()), s[0].wide(s[1])})
		}
	}
	for k, at := range where {
		switch {
		case at.step < 0 || out[at.step] < 0:
		case out[at.step] == at.side:
			wrong = append(wrong, rays[k].i)
		default:
			right = append(right, rays[k].i)
		}
	}
	return joined(all), wrong, right
}

// contested is at which steps one side lies off the outline, or both beside it and not
// together; and beside such a step where one ends and the other does not.
func (f *fitting) contested(say [][2]saying) []bool {
	at := make([]bool, len(say))
	for i, s := range say {
		at[i] = s[0].speaks() && s[1].speaks() && (s[0].wide(s[1]) || s[0].apart(s[1]) >= contestApart)
	}
	out, apart := slices.Clone(at), contestApart*mmPerPixel(f.view, f.axis)
	for i := 1; i+1 < len(at); i++ {
		a, b := say[i][0], say[i][1]
		if (at[i-1] || at[i+1]) && a.speaks() && b.speaks() && math.Abs(a.mean()-b.mean()) >= apart {
			out[i] = true
		}
	}
	return out
}

// settleContests leaves out what one side alone shows and reports whether there was any.
func (f *fitting) settleContests(out *solution) bool {
	all, wrong, right := f.contests()
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
		out.oneSided, out.believed = make([]bool, len(f.edge)), make([]bool, len(f.edge))
	}
	for _, i := range wrong {
		out.oneSided[i] = true
	}
	for _, i := range right {
		out.believed[i] = true
	}
	f.believed = out.believed
	return len(wrong) > 0
}

// joined are stretches of several rounds, in order, those that touch taken together.
func joined(all []contest) (out []contest) {
	all = slices.Clone(all)
	slices.SortFunc(all, func(a, b contest) int { return cmp.Compare(a.lo, b.lo) })
	for _, c := range all {
		if n := len(out); n > 0 && c.lo <= out[n-1].hi+contestStep/2 && c.wide == out[n-1].wide {
			out[n-1].hi, out[n-1].by = max(out[n-1].hi, c.hi), max(out[n-1].by, c.by)
			continue
		}
		out = append(out, c)
	}
	return out
}
