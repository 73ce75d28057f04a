package finishing

import (
	"math"

	"scalewright/model"
)

// seamLength is the length of a seam round the body, mm.
func (in Input) seamLength(s model.Seam) float64 {
	for i, p := range in.Division.Pieces {
		if p.ID == s.Below {
			return math.Pi * float64(in.Carved[i].Diameter)
		}
	}
	return 0
}
