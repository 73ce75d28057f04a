package model

import (
	"math"

	"scalewright/unit"
)

// A part's end that is written this near to a corner of the outline lies on the
// corner, mm of the reference: the maker means the corner, and both were
// measured with some doubt.
const cornerReach = 1.0

// corners moves the ends of parts onto corners of the outline.
type corners struct {
	full  Outline
	ratio float64
	parts []DeclaredPart
}

// station is the full-size station of a part's end: on the nearest corner within
// reach, unless another end is written nearer to that corner.
func (c corners) station(end unit.Dim) unit.Length {
	at := float64(end.At(c.ratio))
	if end.Owner != unit.OfReference || len(c.full) == 0 {
		return unit.Length(at)
	}
	nearest := c.full.Start()
	for _, s := range c.full {
		if math.Abs(s.To.Station-at) < math.Abs(nearest-at) {
			nearest = s.To.Station
		}
	}
	off := math.Abs(nearest - at)
	if off > cornerReach*c.ratio {
		return unit.Length(at)
	}
	for _, p := range c.parts {
		for _, other := range []unit.Dim{p.From, p.To} {
			if math.Abs(nearest-float64(other.At(c.ratio))) < off {
				return unit.Length(at)
			}
		}
	}
	return unit.Length(nearest)
}
