package carve

import (
	"scalewright/craft/turning"
	"scalewright/solid"
)

// bushed is a ring between the core and the stand's post. The flats of its hole touch
// the circle from outside, so that the post passes between them.
func bushed(in Input) turning.Region {
	var out, hole float64
	for _, f := range in.Bush {
		if f.Male == in.Piece.ID.String() {
			out = float64(f.MaleSize.Nominal)
		} else {
			hole = float64(f.Bore.Nominal)
		}
	}
	return turning.Ring(float64(in.Piece.Span.From), float64(in.Piece.Span.To), hole/2*solid.FacetScale(in.Segments), out/2)
}
