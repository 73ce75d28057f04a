package lane

import (
	"math"
	"slices"

	"scalewright/model"
)

// crossings are the radii where the loops of a piece cross a station, rising.
func crossings(c model.Carved, station float64) []float64 {
	var out []float64
	for _, loop := range c.Loops {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			// Half open, so that a corner counts once.
			if (a.Station <= station) == (b.Station <= station) {
				continue
			}
			t := (station - a.Station) / (b.Station - a.Station)
			out = append(out, a.Radius+t*(b.Radius-a.Radius))
		}
	}
	slices.Sort(out)
	return out
}

// wallAt are the inner and outer radius of the outermost material at a station;
// nought where there is none.
func wallAt(c model.Carved, station float64) (in, out float64) {
	x := crossings(c, station)
	switch n := len(x); {
	case n == 0:
		return 0, 0
	case n%2 == 1:
		return 0, x[n-1] // solid to the axis
	default:
		return x[n-2], x[n-1]
	}
}

// thinnest is the least material on a radius at a station: that of the piece
// whose wall is least there. +Inf where there is none.
func thinnest(carved []model.Carved, station float64) float64 {
	least := math.Inf(1)
	for _, c := range carved {
		if station <= float64(c.Reach.From) || station >= float64(c.Reach.To) {
			continue
		}
		if in, out := wallAt(c, station); out > in {
			least = min(least, out-in)
		}
	}
	return least
}
