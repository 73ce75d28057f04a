package place

import "math"

// legs are ways from a spot round to a clocking and to the duct there: at a few
// distances from the axis, stations and both ways round.
func (w *work) legs(a spot, clocking float64) []run {
	stations := []float64{a.station}
	if a.room >= 0 {
		r := w.all[a.room]
		for _, z := range [...]float64{a.station - a.half - cable, a.station + a.half + cable} {
			if z > r.from && z < r.to {
				stations = append(stations, z)
			}
		}
	}
	turn := math.Remainder(clocking-a.clocking, 2*math.Pi)
	turns := []float64{turn}
	if math.Abs(turn) > tiny {
		turns = append(turns, turn-math.Copysign(2*math.Pi, turn))
	}
	var out []run
	for _, z := range stations {
		for _, share := range [...]float64{0.5, 0.25, 0.75, 0, 1} {
			for _, turn := range turns {
				var r run
				r.to(a.station, a.clocking, a.radius)
				radius := math.Min(w.part(a.station, share), w.part(z, share))
				r.to(a.station, a.clocking, radius)
				r.to(z, a.clocking, radius)
				r.round(z, a.clocking, turn, radius)
				r.to(z, clocking, w.ductRadius(z))
				out = append(out, r)
			}
		}
	}
	return out
}

// tiny is a turn that nobody measures, rad.
const tiny = 1e-6
