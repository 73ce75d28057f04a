package readings

import (
	"math"

	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

const (
	// A jaw is set on a station by eye to so much, mm: common practice; a guess until
	// logged. It counts where the body is a cone.
	placing = 0.5
	// A face that is named lies at most so far, mm, from the station that names it.
	faceReach = 1.5
)

// doubt is the standard uncertainty of a reading.
func (r Reading) doubt() float64 {
	if r.U > 0 {
		return r.U
	}
	return float64(stock.CaliperDoubt(unit.Length(r.X)))
}

// observe is a reading beside the trace; false where nothing of the body is there
// to be read.
func (u *unknowns) observe(r Reading) (observation, bool) {
	if !(r.X > 0) || math.IsInf(r.X, 0) || math.IsInf(r.U, 0) || math.IsNaN(r.U) {
		return observation{}, false
	}
	o := observation{square: r.doubt() * r.doubt()}
	if r.Kind == Length {
		a, okA := u.faceAt(r.From)
		b, okB := u.faceAt(r.To)
		if !okA || !okB || a.station == b.station {
			return o, false
		}
		if a.station > b.station {
			a, b = b, a
		}
		o.h = u.stationOf(b)
		for j, x := range u.stationOf(a) {
			o.h[j] -= x
		}
		o.seen = b.station - a.station
	} else {
		i := u.segmentAt(r.Station)
		if i < 0 {
			return o, false
		}
		s := u.trace.Outline[i]
		o.h = u.radiusAt(i, r.Station)
		for j := range o.h {
			o.h[j] *= 2
		}
		o.seen = 2 * radiusOf(s, r.Station)
		slip := 2 * placing * slopeOf(s, r.Station)
		o.square += slip * slip
	}
	o.off = r.X - o.seen
	return o, true
}

func (u *unknowns) faceAt(station float64) (face, bool) {
	best, off := face{}, math.Inf(1)
	for _, f := range u.faces {
		if d := math.Abs(f.station - station); d < off {
			best, off = f, d
		}
	}
	return best, off <= faceReach
}

func radiusOf(s model.Segment, station float64) float64 {
	return model.Outline{s}.RadiusAt(station)
}

// slopeOf is how fast the radius changes along the axis, at most 45°: what is
// steeper no jaw holds.
func slopeOf(s model.Segment, station float64) float64 {
	const reach = 0.25 // mm
	a, b := max(s.From.Station, station-reach), min(s.To.Station, station+reach)
	if b <= a {
		return 0
	}
	return min(1, math.Abs(radiusOf(s, b)-radiusOf(s, a))/(b-a))
}
