package carve

import (
	"scalewright/craft/turning"
	"scalewright/model"
	"scalewright/solid"
)

// shell is a piece of a part's wall with what joins it to its neighbours. All
// that adds material goes first and all that cuts goes last, so that no land or
// root fills what a neighbour, a ring or the core needs.
func shell(in Input) (region, leads turning.Region) {
	s := newShape(in)
	if in.Below != nil {
		s.joint(*in.Below, s.from, -1)
	}
	if in.Above != nil {
		s.joint(*in.Above, s.to, 1)
	}
	for _, seat := range in.Seats {
		s.seat(seat)
	}
	s.core()
	if in.Part.Bore > 0 {
		from, to := s.reach()
		s.cut(turning.Ring(from, to, 0, float64(in.Part.Bore)/2*solid.FacetScale(in.Segments)))
	}
	return s.region.Minus(s.less), s.leads
}

// shape is a shell being carved.
type shape struct {
	Input
	from, to float64
	wall     float64
	lead     float64
	outer    turning.Region // all under the outer profile, within the span
	region   turning.Region
	less     turning.Region // what is cut at the end
	leads    turning.Region // lead-ins, cut when the walls have been measured
}

func newShape(in Input) *shape {
	s := &shape{
		Input: in, from: float64(in.Piece.Span.From), to: float64(in.Piece.Span.To),
		wall: float64(in.Part.Wall), lead: in.leadIn(),
	}
	slice := turning.Ring(s.from, s.to, 0, 2*in.radius())
	s.outer = turning.Under(in.Raw.Outer).Intersect(slice)
	hollow := turning.Under(in.cavity())
	if in.OnCore != nil {
		hollow = hollow.Minus(turning.Ring(float64(in.Core.Span.From), float64(in.Core.Span.To), 0, 2*in.radius()))
	}
	s.region = s.outer.Minus(hollow)
	return s
}

// leadIn is how much a 45° lead-in takes off an edge of the wall.
func (in Input) leadIn() float64 { return min(leadIn, float64(in.Part.Wall)/leadWall) }

func (in Input) cavity() []model.Point { return in.Raw.Cavity(in.Piece.Direction) }

func (in Input) radius() float64 {
	return model.HighestBetween(in.Raw.Outer, float64(in.Piece.Span.From), float64(in.Piece.Span.To))
}

// joint makes what a seam asks of an end of the piece. Out is 1 at the nose, -1 at
// the foot.
func (s *shape) joint(j Joint, end, out float64) {
	switch {
	case j.Seam.Stands(s.Piece.ID):
		s.spigot(end, out, float64(j.Fits[0].MaleSize.Nominal)/2, float64(j.Seam.Engage))
	case j.Seam.Takes(s.Piece.ID):
		s.socket(j, end, out)
	}
}

// socket takes a spigot or a collar, and the core ring at its end.
func (s *shape) socket(j Joint, end, out float64) {
	deep := float64(j.Seam.Engage + model.EndGap)
	for _, seat := range s.Seats {
		if j.Seam.Rests(seat.Seat) {
			deep += float64(seat.Seat.Span.Length())
		}
	}
	bore := boreIn(s.Piece.ID, j.Fits)
	from, to := ordered(end-out*deep, end)
	s.land(from, to, bore)
	s.cut(turning.Ring(from, to, 0, bore))
	if out < 0 {
		s.leads = s.leads.Union(turning.Taper(end, end+s.lead, 0, 0, bore+s.lead, bore))
		return
	}
	s.leads = s.leads.Union(turning.Taper(end-s.lead, end, 0, 0, bore, bore+s.lead))
}

// spigot stands out of an end and is rooted in the wall behind it, the root's
// underside at 45°.
func (s *shape) spigot(end, out, radius, deep float64) {
	bore := max(0, radius-s.wall)
	from, to := ordered(end-out*float64(model.RootDeep), end)
	s.add(s.rooted(from, to, bore))
	from, to = ordered(end, end+out*deep)
	s.add(turning.Ring(from, to, bore, radius))
	s.leads = s.leads.Union(tipped(end+out*deep, radius, s.lead, -out))
}

func ordered(a, b float64) (low, high float64) { return min(a, b), max(a, b) }

// rooted is the material from a bore out to the outer profile between two
// stations, with a 45° slope on the side that hangs in print; all within the
// piece.
func (s *shape) rooted(from, to, bore float64) turning.Region {
	out := s.radius() + 1
	reach := out - bore
	slope := turning.Taper(from-reach, from, bore+reach, bore, out, out)
	if s.Piece.Direction == model.NoseDown {
		slope = turning.Taper(to, to+reach, bore, bore+reach, out, out)
	}
	return turning.Ring(from, to, bore, out).Union(slope).Intersect(s.outer)
}

// land gives a socket its wall where the cavity is wider than the socket. Near
// the shell, or where the socket's end hangs in print, it is solid to the shell
// with a slope; else it is a tube of the part's wall that stands on what lies
// below it, if the shell comes near enough to hold it.
func (s *shape) land(from, to, bore float64) {
	from, to = max(from, s.from), min(to, s.to)
	gap := model.HighestBetween(s.cavity(), from, to) - bore
	if gap <= 0 {
		return
	}
	held := model.LowestBetween(s.cavity(), from, to) <= bore+s.wall/2
	onPlatform := from == s.from && s.Piece.Direction == model.FootDown ||
		to == s.to && s.Piece.Direction == model.NoseDown
	switch {
	case !onPlatform:
		s.add(s.rooted(from, to, bore))
	case gap > landFill*s.wall && held:
		s.add(turning.Ring(from, to, bore, bore+s.wall).Intersect(s.outer))
	default:
		s.add(turning.Ring(from, to, bore, s.radius()+1).Intersect(s.outer))
	}
}

// seat makes room for a core ring.
func (s *shape) seat(seat Seat) {
	from, to := float64(seat.Seat.Span.From), float64(seat.Seat.Span.To+model.EndGap)
	s.cut(turning.Ring(from, to, 0, float64(seat.Fit.Bore.Nominal)/2))
}

// core takes the core's way out of the piece and its spigot: the bore it slides
// along, or, where it rides on rings, as much as keeps lands and roots off it.
func (s *shape) core() {
	from, to := s.reach()
	switch {
	case s.Core == nil || s.Piece.Own:
	case s.OnCore != nil:
		s.cut(s.alongCore(from, to, float64(s.OnCore.Bore.Nominal)))
	case s.Core.Hold == model.Spaced:
		s.cut(s.alongCore(from, to, float64(s.Core.Stock.Widest())))
	}
}

// reach is where the piece begins and ends, its spigots included.
func (s *shape) reach() (from, to float64) {
	from, to = s.from, s.to
	if s.Below != nil && s.Below.Seam.Stands(s.Piece.ID) {
		from -= float64(s.Below.Seam.Engage)
	}
	if s.Above != nil && s.Above.Seam.Stands(s.Piece.ID) {
		to += float64(s.Above.Seam.Engage)
	}
	return from, to
}

func (s *shape) add(r turning.Region) { s.region = s.region.Union(r) }
func (s *shape) cut(r turning.Region) { s.less = s.less.Union(r) }
