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
		s.footJoint(*in.Below)
	}
	if in.Above != nil {
		s.noseJoint(*in.Above)
	}
	for _, seat := range in.Seats {
		s.seat(seat)
	}
	s.core()
	if in.Part.Bore > 0 {
		s.cut(turning.Ring(s.from, s.reach(), 0, float64(in.Part.Bore)/2*solid.FacetScale(in.Segments)))
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

// footJoint cuts the socket at the piece's foot.
func (s *shape) footJoint(j Joint) {
	if j.Seam.Kind == model.Butt {
		return
	}
	deep := float64(j.Seam.Engage + model.EndGap)
	for _, seat := range s.Seats {
		if seat.Seat.Span.From == j.Seam.Station+j.Seam.Engage {
			deep += float64(seat.Seat.Span.Length()) // the ring stands on the spigot's end
		}
	}
	bore := boreIn(s.Piece.ID, j.Fits)
	s.land(s.from, s.from+deep, bore)
	s.cut(turning.Ring(s.from, s.from+deep, 0, bore))
	s.leads = s.leads.Union(turning.Taper(s.from, s.from+s.lead, 0, 0, bore+s.lead, bore))
}

// noseJoint puts a spigot on the piece's nose, or cuts a socket for a collar.
func (s *shape) noseJoint(j Joint) {
	deep := float64(j.Seam.Engage)
	switch j.Seam.Kind {
	case model.Spigot:
		s.spigot(float64(j.Fits[0].MaleSize.Nominal)/2, deep)
	case model.Collar:
		bore := boreIn(s.Piece.ID, j.Fits)
		deep += float64(model.EndGap)
		s.land(s.to-deep, s.to, bore)
		s.cut(turning.Ring(s.to-deep, s.to, 0, bore))
		s.leads = s.leads.Union(turning.Taper(s.to-s.lead, s.to, 0, 0, bore, bore+s.lead))
	case model.Butt:
	}
}

// spigot stands on the nose and is rooted in the wall below it, the root's
// underside at 45°.
func (s *shape) spigot(radius, deep float64) {
	bore := max(0, radius-s.wall)
	s.add(s.rooted(s.to-float64(model.RootDeep), s.to, bore))
	s.add(turning.Ring(s.to, s.to+deep, bore, radius))
	s.leads = s.leads.Union(tipped(s.to+deep, radius, s.lead, -1))
}

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
	end := s.reach()
	switch {
	case s.Core == nil || s.Piece.Own:
	case s.OnCore != nil:
		s.cut(s.alongCore(s.from, end, float64(s.OnCore.Bore.Nominal)))
	case s.Core.Hold == model.Spaced:
		s.cut(s.alongCore(s.from, end, float64(s.Core.Stock.Widest())))
	}
}

// reach is where the piece ends, its spigot included.
func (s *shape) reach() float64 {
	if s.Above != nil && s.Above.Seam.Kind == model.Spigot {
		return s.to + float64(s.Above.Seam.Engage)
	}
	return s.to
}

func (s *shape) add(r turning.Region) { s.region = s.region.Union(r) }
func (s *shape) cut(r turning.Region) { s.less = s.less.Union(r) }
