package divide

import (
	"scalewright/model"
	"scalewright/unit"
)

// seats are the core rings of a hollow build: one where the core begins, and one
// resting on the spigot or collar of each seam that the core runs through.
func seats(in Input, pieces []model.Piece, seams []model.Seam) []model.Seat {
	if in.Core == nil || in.Core.Hold != model.Spaced {
		return nil
	}
	var out []model.Seat
	add := func(host model.PieceID, at unit.Length) {
		span := model.Span{From: at, To: at + ringThick}
		if span.From < in.Core.Span.From || span.To > in.Core.Span.To {
			return
		}
		ring := model.PieceID{Kind: model.CoreRing, Part: host.Part, From: host.From}
		out = append(out, model.Seat{Ring: ring, Host: host, Span: span})
	}
	for _, p := range pieces {
		if p.Span.From <= in.Core.Span.From && in.Core.Span.From < p.Span.To {
			add(p.ID, in.Core.Span.From)
		}
	}
	for _, s := range seams {
		if len(out) > 0 && s.Station+s.Engage < out[len(out)-1].Span.To+ringThick {
			continue // the ring at the core's foot is already there
		}
		add(s.Above, s.Station+s.Engage)
	}
	return out
}

// small are the pieces that are not shells: a collar for each collar seam and a
// ring for each seat.
func small(in Input, d model.Division) []model.Piece {
	var out []model.Piece
	for _, s := range d.Seams {
		if s.Kind == model.Collar {
			out = append(out, model.Piece{
				ID:        model.PieceID{Kind: model.CollarRing, Part: s.Above.Part, From: s.Above.From},
				Name:      "collar of " + s.ID,
				Span:      model.Span{From: s.Station - s.Engage, To: s.Station + s.Engage},
				Filament:  filament(in, s.Above.Part),
				Direction: model.FootDown,
			})
		}
	}
	for _, s := range d.Seats {
		out = append(out, model.Piece{
			ID: s.Ring, Name: "core ring in " + s.Ring.Part + bound(s.Ring), Span: s.Span,
			Filament: filament(in, s.Ring.Part), Direction: model.FootDown,
		})
	}
	return out
}

func bound(id model.PieceID) string {
	if id.From == model.Foot {
		return ""
	}
	return " at cut " + id.From
}

func filament(in Input, part string) string { return workOf(in, part).part.Filament }
