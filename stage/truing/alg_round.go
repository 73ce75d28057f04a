package truing

import (
	"fmt"
	"math"
	"strconv"

	"scalewright/unit"
)

const (
	// A round value is proposed where it is this many times likelier than any other
	// between its neighbours: strong evidence (Kass & Raftery 1995, section 3.2).
	strong = 20.0
	// And within so many doubts of what was measured.
	roundReach = 2.0
	inch       = 25.4 // mm, exact: international yard and pound agreement, 1959
)

// scales are the steps of round values, coarse first: mm, and inches as their rules
// are divided.
var scales = [...]struct {
	step  float64
	parts int // of an inch; 0: mm
}{
	{10, 0},
	{5, 0},
	{2, 0},
	{1, 0},
	{0.5, 0},
	{inch, 1},
	{inch / 2, 2},
	{inch / 4, 4},
	{inch / 8, 8},
	{inch / 16, 16},
	{inch / 32, 32},
	{inch / 64, 64},
}

// rounds are the diameters and the length that look like round ones.
func (t *trued) rounds() (out []Round) {
	for i, s := range t.old {
		e := t.est[i]
		if lengthwise(s) && e.seen && math.Abs(e.slope.X) <= max(2*e.slope.U, tiny) {
			out = looksLike(out, "diameter", e.middle, e.radius.Scale(2))
		}
	}
	if l := t.in.Trace.Length; t.photographed() {
		out = looksLike(out, "length", t.old.End(), l)
	}
	return out
}

func (t *trued) photographed() bool {
	for _, e := range t.est {
		if e.seen {
			return true
		}
	}
	return false
}

// looksLike adds the round value that speaks most for itself, where one does.
func looksLike(out []Round, what string, station float64, v unit.Value) []Round {
	best := Round{}
	for _, s := range scales {
		round := s.step * math.Round(v.X/s.step)
		d := math.Abs(v.X - round)
		if round <= 0 || v.U <= 0 || d > roundReach*v.U {
			continue
		}
		times := s.step / (v.U * math.Sqrt(2*math.Pi)) * math.Exp(-d*d/(2*v.U*v.U))
		if times >= strong && times > best.Times {
			best = Round{What: what, Station: station, Value: v, Round: round, Reads: reads(round, s.parts), Times: times}
		}
	}
	if best.Times == 0 {
		return out
	}
	return append(out, best)
}

// reads is a round value as a rule shows it.
func reads(mm float64, parts int) string {
	if parts == 0 {
		return strconv.FormatFloat(mm, 'f', -1, 64) + " mm"
	}
	n := int(math.Round(mm / inch * float64(parts)))
	whole, rest := n/parts, n%parts
	for rest > 0 && rest%2 == 0 {
		rest, parts = rest/2, parts/2
	}
	switch {
	case rest == 0:
		return fmt.Sprintf("%d in", whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d in", rest, parts)
	}
	return fmt.Sprintf("%d %d/%d in", whole, rest, parts)
}
