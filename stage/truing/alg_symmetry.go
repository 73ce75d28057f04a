package truing

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// symmetry is the chance that a body alike at both ends would be measured so far from
// it: over the near half, differences of the radii of a station and of its fellow,
// chi-squared, neighbours in threes. False where nothing is left to compare.
func (t *trued) symmetry() (p float64, ok bool) {
	start, end := t.old.Start(), t.old.End()
	chi, n := 0.0, 0.0
	profile := t.in.Trace.Profile
	for k, q := range profile {
		other := start + end - q.Station
		if q.Station > other || t.nearCorner(q.Station) || t.nearCorner(other) {
			continue
		}
		best := k
		for j := range profile {
			if math.Abs(profile[j].Station-other) < math.Abs(profile[best].Station-other) {
				best = j
			}
		}
		d := q.Radius.Sub(profile[best].Radius)
		off := t.old.RadiusAt(q.Station) - t.old.RadiusAt(other)
		if d.U <= 0 {
			if math.Abs(off) > tiny {
				return 0, true
			}
			continue
		}
		chi, n = chi+(off/d.U)*(off/d.U), n+1
	}
	if n < 2*independent {
		return 0, false
	}
	return distuv.ChiSquared{K: n / independent}.Survival(chi / independent), true
}

// nearCorner reports whether a station lies where a reading blends two segments, or
// beside a step.
func (t *trued) nearCorner(station float64) bool {
	const beside = 2 * blend
	for _, s := range t.old {
		if math.Abs(station-s.From.Station) < beside || math.Abs(station-s.To.Station) < beside {
			return true
		}
	}
	return false
}
