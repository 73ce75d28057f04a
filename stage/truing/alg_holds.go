package truing

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"scalewright/model"
)

const (
	// A truth is kept at this level: of bodies of which it is true, one in twenty is
	// measured farther off.
	level = 0.05
	// It is proposed where what is not true would keep it by chance at most this often.
	mostChance = 0.1
	// Directions that may be taken for one another, as a span of slopes: 5° either way.
	slopes = 0.175
	// Draft of a moulding, as slopes: 0.5° to 3° (common practice; a guess until
	// logged).
	leastDraft = 0.0087
	mostDraft  = 0.0524
)

// holds are the truths that the measurements keep.
func (t *trued) holds() []Hold {
	out := t.parallels()
	out = append(out, t.drafts()...)
	out = append(out, t.diameters()...)
	for i, s := range t.old {
		if steep(s) {
			middle := (s.From.Station + s.To.Station) / 2
			u := math.Sqrt2 * placed(t.in.Trace, middle)
			out = t.hold(out, model.SquareTo, middle, 0, s.To.Station-s.From.Station, u, 4*u/(2*slopes*math.Abs(s.To.Radius-s.From.Radius)))
		}
		if i+1 < len(t.old) && (s.Kind == model.Arc) != (t.old[i+1].Kind == model.Arc) && !step(s) && !step(t.old[i+1]) {
			turn, u := t.angle(i)
			arc := i
			if s.Kind == model.Line {
				arc = i + 1
			}
			middle := (t.old[arc].From.Station + t.old[arc].To.Station) / 2
			out = t.hold(out, model.Tangent, middle, s.To.Station, turn, u, 4*u/(2*math.Pi/4))
		}
	}
	if alike(t.old) && len(t.old) > 2 {
		if p, ok := t.symmetry(); ok && p >= level {
			out = append(out, Hold{Truth: model.Symmetric, Station: (t.old.Start() + t.old.End()) / 2, P: p})
		}
	}
	return out
}

// hold adds a truth that is kept, sharply enough, and not kept already to a
// micrometre.
func (t *trued) hold(out []Hold, truth model.Truth, station, other, off, u, chance float64) []Hold {
	if u <= 0 || math.Abs(off) < tiny*tiny || chance > mostChance {
		return out
	}
	p := distuv.ChiSquared{K: 1}.Survival(off * off / (u * u))
	if p < level {
		return out
	}
	return append(out, Hold{Truth: truth, Station: station, Other: other, P: p, Chance: chance})
}

func (t *trued) parallels() (out []Hold) {
	for i, s := range t.old {
		if e := t.est[i]; lengthwise(s) && e.seen {
			out = t.hold(out, model.Parallel, e.middle, 0, e.slope.X, e.slope.U, 4*e.slope.U/slopes)
		}
	}
	return out
}

// drafts are lines of one slope within the draft of a moulding, two at least.
func (t *trued) drafts() (out []Hold) {
	var all []int
	for i, s := range t.old {
		m := math.Abs(t.est[i].slope.X)
		if lengthwise(s) && t.est[i].seen && m >= leastDraft && m <= mostDraft && m > unlikely*t.est[i].slope.U {
			all = append(all, i)
		}
	}
	slices.SortStableFunc(all, func(a, b int) int {
		return int(math.Copysign(1, math.Abs(t.est[a].slope.X)-math.Abs(t.est[b].slope.X)))
	})
	best, bestP, bestChance := []int(nil), 0.0, 0.0
	for from := range all {
		for to := from + 2; to <= len(all); to++ {
			p, chance := t.oneDraft(all[from:to])
			if p >= level && chance <= mostChance && to-from > len(best) {
				best, bestP, bestChance = all[from:to], p, chance
			}
		}
	}
	for _, i := range best {
		out = append(out, Hold{Truth: model.NoDraft, Station: t.est[i].middle, P: bestP, Chance: bestChance})
	}
	return out
}

// oneDraft is the chance that lines of one draft are measured so far from one another,
// and that lines of any would be so near.
func (t *trued) oneDraft(lines []int) (p, chance float64) {
	var sw, swx float64
	for _, i := range lines {
		u := t.est[i].slope.U
		sw, swx = sw+1/(u*u), swx+math.Abs(t.est[i].slope.X)/(u*u)
	}
	chi := 0.0
	chance = 1
	for k, i := range lines {
		u := t.est[i].slope.U
		d := (math.Abs(t.est[i].slope.X) - swx/sw) / u
		chi += d * d
		if k > 0 {
			chance *= min(1, 4*u/(mostDraft-leastDraft))
		}
	}
	return distuv.ChiSquared{K: float64(len(lines) - 1)}.Survival(chi), chance
}

// diameters are pairs of lines along the axis of one diameter.
func (t *trued) diameters() (out []Hold) {
	var all []int
	widest := 0.0
	for i, s := range t.old {
		if e := t.est[i]; lengthwise(s) && e.seen && math.Abs(e.slope.X) <= max(2*e.slope.U, tiny) {
			all = append(all, i)
			widest = max(widest, e.radius.X)
		}
	}
	pairs := float64(len(all)*(len(all)-1)) / 2
	for a, i := range all {
		for _, j := range all[a+1:] {
			d := t.est[i].radius.Sub(t.est[j].radius)
			// Radii of one body lie anywhere up to the widest.
			out = t.hold(out, model.Equal, t.est[i].middle, t.est[j].middle, d.X, d.U, pairs*4*d.U/widest)
		}
	}
	return out
}
