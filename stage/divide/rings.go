package divide

import (
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// seats are the core rings of a hollow build: one where the core begins, and one
// at the end of the spigot or collar of each seam that the core runs through. Where
// the core begins inside a spigot, the ring on the spigot's end holds it. The
// pieces given are those of the body.
func seats(in Input, d model.Division) []model.Seat {
	if in.Core == nil || in.Core.Hold != model.Spaced {
		return nil
	}
	var out []model.Seat
	core := in.Core.Span
	for _, p := range d.Pieces {
		if p.Span.From <= core.From && core.From < p.Span.To &&
			core.From >= p.Span.From+spigotIn(in, d, p) &&
			core.From+ringThick+model.EndGap <= p.Span.To-atNose(d, p) && core.From+ringThick <= core.To {
			out = append(out, seat(p.ID, p.ID.From, core.From))
		}
	}
	for _, s := range d.Seams {
		host, end, at := s.Above, s.Above.From, s.Station+s.Engage
		if s.Male() == stock.MaleAbove {
			host, end, at = s.Below, s.Below.To, s.Station-s.Engage-ringThick
		}
		_, onBody := d.Piece(host)
		switch {
		case !onBody:
		case at < core.From || at+ringThick > core.To || !roundCore(in, d, s):
		case len(out) > 0 && at < out[len(out)-1].Span.To+ringThick: // the ring at the core's foot is already there
		default:
			out = append(out, seat(host, end, at))
		}
	}
	return out
}

// seat is a ring's place, named after the end of the host that it lies near.
func seat(host model.PieceID, end string, at unit.Length) model.Seat {
	ring := model.PieceID{Kind: model.CoreRing, Part: host.Part, From: end}
	return model.Seat{Ring: ring, Host: host, Span: model.Span{From: at, To: at + ringThick}}
}

// spigotIn is how far what stands in a piece's foot reaches up round the core.
func spigotIn(in Input, d model.Division, p model.Piece) unit.Length {
	for _, s := range d.Seams {
		if s.Above == p.ID && roundCore(in, d, s) {
			return s.Engage
		}
	}
	return 0
}

// roundCore reports whether a seam's joint is wider than the core, so that it
// goes round it; a narrower one lies inside the pipe.
func roundCore(in Input, d model.Division, s model.Seam) bool {
	below, _ := d.Piece(s.Below)
	above, _ := d.Piece(s.Above)
	return unit.Length(2*inside(in, below, above)) >= in.Core.Stock.OD
}

// small are the pieces that are not shells: a collar for each collar seam and a
// ring for each seat.
func small(in Input, d model.Division) []model.Piece {
	var out []model.Piece
	for _, s := range d.Seams {
		if s.Male() == stock.MaleOwn {
			out = append(out, model.Piece{
				ID:        model.PieceID{Kind: model.CollarRing, Part: s.Above.Part, From: s.Above.From},
				Name:      "collar under " + nameOf(d, s.Above),
				Span:      model.Span{From: s.Station - s.Engage, To: s.Station + s.Engage},
				Filament:  filament(in, s.Above.Part),
				Direction: model.FootDown,
				Own:       !workOf(in, s.Above.Part).part.OnBody(),
			})
		}
	}
	for _, s := range d.Seats {
		out = append(out, model.Piece{
			ID: s.Ring, Name: "core ring in " + nameOf(d, s.Host), Span: s.Span,
			Filament: filament(in, s.Ring.Part), Direction: model.FootDown,
		})
	}
	return out
}

// nameOf is what people call a shell: a provisional cut's id is for no one's eyes.
func nameOf(d model.Division, id model.PieceID) string {
	p, _ := d.Piece(id)
	return p.Name
}

func filament(in Input, part string) string { return workOf(in, part).part.Filament }
