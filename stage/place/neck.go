package place

import (
	"math"

	"scalewright/model"
	"scalewright/stock"
)

// neck is where a joint leaves less room than the wall does: between two stations
// no further out than a radius, and where it would hang in print a slope of 45°
// from there out to the wall.
type neck struct {
	from, to, radius float64
	down, up         bool // a slope below from, above to
}

// limit is how far out a neck lets anything be between two stations.
func (n neck) limit(from, to float64) float64 {
	switch {
	case to > n.from && from < n.to:
		return n.radius
	case to <= n.from && n.down:
		return n.radius + n.from - to
	case from >= n.to && n.up:
		return n.radius + from - n.to
	}
	return math.Inf(1)
}

// necks are the joints' sockets, spigots and collars. How wide they come out is for
// fit to say, later; it asks for a socket as wide as the cavity lets it, and what
// its fits take off is less than the clearance kept here.
func (in Input) necks() []neck {
	var out []neck
	for _, s := range in.Division.Seams {
		below, ok := in.Division.Piece(s.Below)
		above, also := in.Division.Piece(s.Above)
		if !ok || !also || s.Flat() {
			continue
		}
		at, deep := float64(s.Station), float64(s.Engage+model.EndGap)
		low, top := at-deep, at+deep
		for _, seat := range in.Division.Seats {
			if s.Rests(seat) { // at the spigot's end, and the socket reaches over it
				low, top = math.Min(low, float64(seat.Span.From-model.EndGap)), math.Max(top, float64(seat.Span.To+model.EndGap))
			}
		}
		// A slope hangs on the side that is up in print.
		socketBelow := func(bore float64) neck {
			return neck{low, at, bore - clear, below.Direction == model.FootDown, false}
		}
		socketAbove := func(bore float64) neck {
			return neck{at, top, bore - clear, false, above.Direction == model.NoseDown}
		}
		root := float64(model.RootDeep)
		switch s.Male() {
		case stock.MaleBelow:
			bore := in.cavityOf(above, at, top)
			spigot := neck{at - root, at + deep, bore - in.wallOf(s.Below.Part) - clear, below.Direction == model.FootDown, false}
			out = append(out, spigot, socketAbove(bore))
		case stock.MaleAbove:
			bore := in.cavityOf(below, low, at)
			spigot := neck{at - deep, at + root, bore - in.wallOf(s.Above.Part) - clear, false, above.Direction == model.NoseDown}
			out = append(out, spigot, socketBelow(bore))
		case stock.MaleOwn:
			bore := math.Min(in.cavityOf(below, low, at), in.cavityOf(above, at, top))
			collar := neck{at - deep, at + deep, bore - in.wallOf(s.Above.Part) - clear, false, false}
			out = append(out, collar, socketBelow(bore), socketAbove(bore))
		}
	}
	return out
}

// cavityOf is the least radius inside a piece between two stations.
func (in Input) cavityOf(p model.Piece, from, to float64) float64 {
	for i, part := range in.Design.Parts {
		if part.ID == p.ID.Part {
			return model.LowestBetween(in.Raw[i].Cavity(p.Direction), math.Max(from, float64(p.Span.From)), math.Min(to, float64(p.Span.To)))
		}
	}
	return 0
}

func (in Input) wallOf(part string) float64 {
	for _, p := range in.Design.Parts {
		if p.ID == part {
			return float64(p.Wall)
		}
	}
	return 0
}
