package divide

import (
	"math"

	"scalewright/finding"
	"scalewright/model"
)

// opened are the stretches of a piece in which an opening, its ledge included,
// lies beside a plate's tongue or under it. What is as far in as the tongue ends is
// looked at there: a clocking is less of an arc.
func opened(d model.Division, p model.Piece, guest model.Part, host work) []stretch {
	var out []stretch
	for _, w := range d.Windows {
		if w.Piece != p.ID {
			continue
		}
		inner := float64(w.Radius - host.part.Wall - max(host.part.Wall, tabInside))
		turn := across(w, sideways(w.Opening), inner) + arc(float64(guest.Plate.Thick)/2+tabClear, inner)
		if apartBy(w.Opening, guest) < turn {
			at, reach := float64(w.Opening.Station), half(w.Opening)
			out = append(out, stretch{at - reach, at + reach})
		}
	}
	return out
}

// apartBy is the angle between an opening's middle and a plate along the axis.
func apartBy(o model.Opening, guest model.Part) float64 {
	return math.Abs(math.Remainder(o.Clocking-guest.Axis.Clocking, 2*math.Pi))
}

// across is the angle that so much of an opening takes to either side at a radius:
// the sides of a four-sided one are radial, those of a round one are not.
func across(w model.Window, reach, radius float64) float64 {
	if w.Opening.Across > 0 {
		return arc(reach, radius)
	}
	return reach / float64(w.Radius)
}

// arc is the angle at which something that runs along the radius, so far beside the
// axis, passes through a circle.
func arc(beside, radius float64) float64 {
	return math.Asin(min(1, beside/max(radius, beside, math.SmallestNonzeroFloat64)))
}

// underGuests are openings whose rim lies under a plate along the axis, so that it
// would stand in the hole, each with the clockings and stations that clear it.
func underGuests(in Input, d model.Division) finding.List {
	var found finding.List
	for _, w := range d.Windows {
		o := w.Opening
		for _, m := range in.Mounts {
			guest := workOf(in, m.Guest).part
			if m.Host != o.Part || guest.Form != model.Flat || guest.Plate.Lie != model.Along {
				continue
			}
			reach := float64(max(o.Across, o.High)) / 2
			radius := float64(w.Radius)
			touch := across(w, float64(max(o.Across, o.Wide))/2, radius) + arc(float64(guest.Plate.Thick)/2, radius)
			for _, r := range rootOf(guest, workOf(in, o.Part)) {
				if at := float64(o.Station); apartBy(o, guest) >= touch || at+reach <= r.from || at-reach >= r.to {
					continue
				}
				clear := touch + openRoom/radius
				found.Add(finding.New("opening-under-guest", o.At, finding.Args{
					"opening": finding.Name(o.ID), "guest": finding.Name(m.Guest),
					"low": degrees(guest.Axis.Clocking-clear, math.Floor), "high": degrees(guest.Axis.Clocking+clear, math.Ceil),
					"before": finding.Long(r.from - half(o) - openRoom), "past": finding.Long(r.to + half(o) + openRoom),
				}).About(o.Part).AtStation(o.Station))
			}
		}
	}
	return found
}

// degrees is a clocking for people, in whole degrees from 0 to 360.
func degrees(angle float64, round func(float64) float64) finding.Number {
	return finding.Number(math.Mod(round(angle*180/math.Pi)+720, 360))
}
