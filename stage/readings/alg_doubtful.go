package readings

import (
	"math"

	"scalewright/finding"
	"scalewright/unit"
)

const (
	// A reading that lies farther off than this from all else, in doubts, does not
	// belong: one honest one in a thousand does (the two-sided quantile of the normal
	// distribution; Baarda's level).
	mostOff = 3.29
	// Two explanations are told apart where their weighted sums of squares differ by
	// this much: nineteen times in twenty (chi-squared, one degree of freedom).
	tellsApart = 3.84
)

// settle takes out what does not belong, and says so.
func (j *joining) settle(found *finding.List) {
	if j.scaleIsOff() {
		share := j.freeScale()
		found.Add(finding.New("readings-scale", j.taken[0].Reading.At, finding.Args{
			"count": finding.Count(len(j.used(-1))), "share": finding.Number(100 * share),
		}))
	}
	for range j.taken {
		off := j.offs()
		worst := largest(off)
		if worst < 0 || math.Abs(off[worst]) <= mostOff {
			return
		}
		rival := j.rival(worst, off)
		j.taken[worst].Used = false
		if rival >= 0 {
			j.taken[rival].Used = false
			found.Add(between(j.taken[worst].Reading, j.taken[rival].Reading))
			continue
		}
		found.Add(j.said(worst))
	}
}

// offs is how far each reading that counts lies off from all else, in doubts; 0 for
// those that don't.
func (j *joining) offs() []float64 {
	out := make([]float64, len(j.taken))
	for i, t := range j.taken {
		if t.Used {
			p := weigh(j.used(i), len(j.names))
			out[i] = (t.obs.off - dot(t.obs.h, p.x)) / math.Sqrt(p.variance(t.obs.h)+t.obs.square)
		}
	}
	return out
}

func largest(off []float64) int {
	best := -1
	for i, x := range off {
		if x != 0 && (best < 0 || math.Abs(x) > math.Abs(off[best])) {
			best = i
		}
	}
	return best
}

// rival is another reading that, left out instead, would settle everything about as
// well; -1 where there is none.
func (j *joining) rival(worst int, off []float64) int {
	settles := func(i int) (bool, float64) {
		j.taken[i].Used = false
		defer func() { j.taken[i].Used = true }()
		for _, x := range j.offs() {
			if math.Abs(x) > mostOff {
				return false, 0
			}
		}
		return true, weigh(j.used(-1), len(j.names)).chi
	}
	ok, chi := settles(worst)
	if !ok {
		return -1
	}
	for i, x := range off {
		if i == worst || math.Abs(x) <= mostOff {
			continue
		}
		if other, square := settles(i); other && square-chi < tellsApart {
			return i
		}
	}
	return -1
}

// scaleIsOff reports whether several readings lie off from the photograph, each by
// itself, and agree with one another once its scale is free.
func (j *joining) scaleIsOff() bool {
	alone := 0
	for _, t := range j.taken {
		if t.Used && math.Abs(t.obs.off) > mostOff*math.Sqrt(dot(t.obs.h, t.obs.h)+t.obs.square) {
			alone++
		}
	}
	if alone < 2 {
		return false
	}
	free := j.freed()
	for _, x := range free.offs() {
		if math.Abs(x) > mostOff {
			return false
		}
	}
	p := weigh(free.used(-1), len(free.names))
	x, u := free.scale(p)
	return math.Abs(x) > 3*u
}

// freed is the same joining with the photograph's scale unknown.
func (j *joining) freed() *joining {
	out := &joining{unknowns: newUnknowns(j.trace, true), lengthRead: j.lengthRead}
	for _, t := range j.taken {
		if t.obs.h != nil {
			t.obs, _ = out.observe(t.Reading)
		}
		out.taken = append(out.taken, t)
	}
	return out
}

// freeScale lets the photograph's scale go and says by what share it is off.
func (j *joining) freeScale() float64 {
	*j = *j.freed()
	x, _ := j.scale(weigh(j.used(-1), len(j.names)))
	return x
}

// scale is how far the photograph's scale is off, as a share, and the doubt of that.
func (j *joining) scale(p posterior) (share, u float64) {
	h := make([]float64, len(j.names))
	for i, name := range j.names {
		if name == scaleName {
			h[i] = scaleFree
		}
	}
	return dot(h, p.x), math.Sqrt(p.variance(h))
}

// said is the finding of a reading that does not belong, with what may have been
// meant.
func (j *joining) said(i int) finding.Finding {
	t := j.taken[i]
	p := weigh(j.used(i), len(j.names))
	seen := t.obs.seen + dot(t.obs.h, p.x)
	u := math.Sqrt(p.variance(t.obs.h) + t.obs.square)
	args := finding.Args{
		"what": finding.Name(t.Reading.Kind), "at": finding.Size(unit.Length(t.Reading.where())),
		"read": finding.Fine(unit.Length(t.Reading.X)), "seen": finding.Fine(unit.Length(seen)), "u": finding.Fine(unit.Length(2 * u)),
	}
	code := finding.Code("reading-inconsistent")
	if s, ok := slip(t.Reading, seen, u); ok {
		code = s.code
		args["meant"] = finding.Fine(unit.Length(s.meant))
	}
	return finding.New(code, t.Reading.At, args).AtStation(unit.Length(t.Reading.where()))
}

func between(a, b Reading) finding.Finding {
	return finding.New("readings-disagree", a.At, finding.Args{
		"one": finding.Name(a.Kind), "at": finding.Size(unit.Length(a.where())), "read": finding.Fine(unit.Length(a.X)),
		"other": finding.Name(b.Kind), "there": finding.Size(unit.Length(b.where())), "against": finding.Fine(unit.Length(b.X)),
	}).WithNote("first-here", b.At, nil)
}

func nowhere(r Reading) finding.Finding {
	return finding.New("reading-nowhere", r.At, finding.Args{
		"what": finding.Name(r.Kind), "at": finding.Size(unit.Length(r.where())), "read": finding.Fine(unit.Length(r.X)),
	})
}
