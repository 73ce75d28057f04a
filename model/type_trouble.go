package model

import "math"

// Trouble is what makes an outline impossible to turn.
type Trouble string

// Troubles of an outline.
const (
	Crosses   Trouble = "crosses itself"
	RunsBack  Trouble = "runs back along the axis"
	BelowAxis Trouble = "goes below the axis"
	TooShort  Trouble = "has no length"
	NoWidth   Trouble = "has no width"
	BadArc    Trouble = "has an arc whose ends do not lie on its circle"
)

// Trouble is the first reason why the outline cannot be turned, and where;
// empty when there is none.
func (o Outline) Trouble() (Trouble, Point) {
	if len(o) == 0 {
		return TooShort, Point{}
	}
	for _, s := range o {
		if s.From.Radius < 0 || s.To.Radius < 0 {
			return BelowAxis, s.From
		}
		if s.Kind == Arc && !s.onCircle() {
			return BadArc, s.From
		}
	}
	line := o.Polyline(0.01)
	for i := 1; i < len(line); i++ {
		for j := i + 2; j < len(line); j++ {
			if crossing(line[i-1], line[i], line[j-1], line[j]) {
				return Crosses, line[i]
			}
		}
	}
	for i := 1; i < len(line); i++ {
		if line[i].Station < line[i-1].Station {
			return RunsBack, line[i]
		}
	}
	if o.End()-o.Start() <= 0 {
		return TooShort, o[0].From
	}
	if o.MaxRadius() <= 0 {
		return NoWidth, o[0].From
	}
	return "", Point{}
}

// An arc's ends may lie this far off its circle, mm: what four decimals leave.
const onCircleMM = 0.01

func (s Segment) onCircle() bool {
	off := func(p Point) float64 {
		return math.Abs(math.Hypot(p.Station-s.Centre.Station, p.Radius-s.Centre.Radius) - s.R)
	}
	return s.R > 0 && off(s.From) <= onCircleMM && off(s.To) <= onCircleMM
}

// crossing reports whether two segments cross inside both.
func crossing(a, b, c, d Point) bool {
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// side is the sign of c to the left (1) or right (-1) of a b.
func side(a, b, c Point) float64 {
	x := float64((b.Station-a.Station)*(c.Radius-a.Radius)) - float64((b.Radius-a.Radius)*(c.Station-a.Station))
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}
