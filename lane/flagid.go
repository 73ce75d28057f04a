package lane

import (
	"scalewright/drawing"
	"scalewright/finding"
)

// FlagID is the id of a finding's flag on the elevation; of one without a place, an
// id that no flag has.
func FlagID(f finding.Finding) string {
	if !f.HasPlace {
		return "found-" + string(f.Code)
	}
	return "flag-" + string(f.Code) + "-" + station3(float64(f.Station))
}

// Tint is the colour that a piece has in every lane.
func (p *Prepared) Tint(piece int) drawing.Colour { return p.tints[piece] }
