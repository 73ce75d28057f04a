package measure

import (
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Correction is a corner or an arc of the outline that the maker moved on the
// photograph.
type Correction struct {
	model.Correction
	At finding.Place
}

// ByHand is why a stretch is not as it was measured.
const (
	cornerByHand = "a corner moved by hand"
	arcByHand    = "an arc bent by hand"
)

// correct puts the outline right where the maker did, and the profile with it. What is
// moved is known again by where it was found, so that each correction stands by itself,
// whatever the others do. Both ends keep their station: the length has a value of its own.
func (out *Result) correct(in Input, list *finding.List) {
	found := out.Trace.Outline
	out.Found = found
	for _, c := range in.Corrections {
		was := finding.Args{"at": finding.Size(unit.Length(c.From.Station)), "radius": finding.Size(unit.Length(c.From.Radius))}
		k := found.Find(c.Correction)
		if k < 0 {
			list.Add(finding.New("correction-astray", c.At, was))
			continue
		}
		if !c.Arc && (k == 0 || k == len(found)) {
			c.To.Station = ends(found, k)
		}
		next := out.Trace.Outline.Corrected(k, c.Correction)
		if trouble, _ := next.Trouble(); trouble != "" {
			was["trouble"] = finding.Name(string(trouble))
			list.Add(finding.New("correction-crosses", c.At, was))
			continue
		}
		out.shift(out.Trace.Outline, next, k, c.Correction)
		out.Trace.Outline = next
	}
}

// ends is the station of an outline's first or last end.
func ends(o model.Outline, k int) float64 {
	if k == 0 {
		return o.Start()
	}
	return o.End()
}

// shift moves the profile from one outline to the next over the segments that a
// correction touches. At the moved place nothing of the photograph is in the radius,
// and its doubt is the hand's, in radius and, by the slope, in station; from there to
// the segments' other ends the photograph's say grows evenly.
func (out *Result) shift(was, is model.Outline, k int, c model.Correction) {
	lo, mid, hi := c.To.Station, c.To.Station, c.To.Station
	because := cornerByHand
	switch {
	case c.Arc:
		lo, hi, because = is[k].From.Station, is[k].To.Station, arcByHand
	default:
		if k > 0 {
			lo = is[k-1].From.Station
		}
		if k < len(is) {
			hi = is[k].To.Station
		}
	}
	hand := func(s float64) float64 {
		if s < mid {
			return 1 - (mid-s)/(mid-lo)
		}
		if s > mid {
			return 1 - (s-mid)/(hi-mid)
		}
		return 1
	}
	for i := range out.Trace.Profile {
		p := &out.Trace.Profile[i]
		if p.Station < lo || p.Station > hi {
			continue
		}
		w := hand(p.Station)
		const step = 0.1
		slope := min(1, math.Abs(is.RadiusAt(p.Station+step)-is.RadiusAt(p.Station-step))/(2*step))
		from := p.Radius.Scale(1 - w)
		u := math.Hypot(from.Independent(), w*c.DoubtMM*math.Hypot(1, slope))
		p.Radius = unit.Estimate(p.Radius.X+is.RadiusAt(p.Station)-was.RadiusAt(p.Station), u, from.Sources...)
		out.Profile[i] = Point{p.Station, p.Radius.X, p.Radius.U}
	}
	out.Trace.Typed = append(out.Trace.Typed, model.Hidden{From: lo, To: hi, Because: because})
}
