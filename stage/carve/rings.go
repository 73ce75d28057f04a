package carve

import (
	"scalewright/craft/turning"
	"scalewright/model"
	"scalewright/solid"
)

// collar is a tube of the part's wall that reaches into both shells.
func collar(in Input) (region, leads turning.Region) {
	from, to := float64(in.Piece.Span.From), float64(in.Piece.Span.To)
	radius := float64(in.Above.Fits[0].MaleSize.Nominal) / 2
	region = turning.Ring(from, to, max(0, radius-float64(in.Part.Wall)), radius)
	return region, tipped(from, radius, in.leadIn(), 1).Union(tipped(to, radius, in.leadIn(), -1))
}

// tipped is what a 45° lead-in takes off the outside of a tube's end; way is 1
// for the end nearer the datum.
func tipped(end, radius, lead, way float64) turning.Region {
	if way > 0 {
		return turning.Taper(end, end+lead, radius-lead, radius, 2*radius, 2*radius)
	}
	return turning.Taper(end-lead, end, radius, radius-lead, 2*radius, 2*radius)
}

// ring is a core ring: a flat disc bored for the core.
func ring(in Input) turning.Region {
	seat := in.Seats[0]
	from, to := float64(seat.Seat.Span.From), float64(seat.Seat.Span.To)
	disc := turning.Ring(from, to, 0, float64(seat.Fit.MaleSize.Nominal)/2)
	return disc.Minus(in.alongCore(from, to, float64(in.OnCore.Bore.Nominal)))
}

// alongCore is a bore for the core between two stations. Its flats touch the
// circle from outside, so that the pipe passes between them.
func (in Input) alongCore(from, to, bore float64) turning.Region {
	from, to = max(from, float64(in.Core.Span.From)), min(to, float64(in.Core.Span.To+model.EndGap))
	return turning.Ring(from, to, 0, bore/2*solid.FacetScale(in.Segments))
}

// boreIn is the radius of the socket in a piece.
func boreIn(piece model.PieceID, fits []model.Fit) float64 {
	for _, f := range fits {
		if f.Female == piece.String() {
			return float64(f.Bore.Nominal) / 2
		}
	}
	panic("carve: internal error: no socket in " + piece.String())
}
