package divide

import (
	"context"
	"fmt"

	"scalewright/finding"
	"scalewright/model"
)

// Run divides the design.
func Run(ctx context.Context, in Input) (model.Division, finding.List, error) {
	var out model.Division
	var own [][]model.Piece // of each part that is no stretch of the body
	found := together(in.Parts)
	found.Add(kinds(in)...)
	for i := range in.Parts {
		if err := ctx.Err(); err != nil {
			return out, found, err
		}
		pieces, cuts, more := dividePart(in, i)
		found.Add(more...)
		out.Cuts = append(out.Cuts, cuts...)
		if in.Parts[i].OnBody() {
			out.Pieces = append(out.Pieces, pieces...)
		} else {
			own = append(own, pieces)
		}
	}
	if found.Blocked() {
		return model.Division{}, found, nil
	}
	out.Seams = seams(in, out.Pieces, out.Cuts)
	found.Add(unheld(in, out.Seams)...)
	body := len(out.Pieces)
	for _, pieces := range own {
		out.Seams = append(out.Seams, seams(in, pieces, out.Cuts)...)
		out.Pieces = append(out.Pieces, pieces...)
	}
	out.Seats = seats(in, model.Division{Pieces: out.Pieces[:body], Seams: out.Seams})
	found.Add(room(in, out)...)
	found.Add(standing(in, out)...)
	found.Add(held(in, out)...)
	if found.Blocked() {
		return model.Division{}, found, nil
	}
	var more finding.List
	out.Windows, more = windows(in, out)
	found.Add(more...)
	found.Add(underGuests(in, out)...)
	out.Tabs, more = tabs(in, out)
	found.Add(more...)
	out.Holds, more = fastenings(in, out)
	found.Add(more...)
	if found.Blocked() {
		return model.Division{}, found, nil
	}
	out.Pieces = append(out.Pieces, small(in, out)...)
	out.Pieces = append(out.Pieces, panels(in, out.Windows)...)
	out.Pieces = append(out.Pieces, bushes(in, out)...)
	balance(in, out)
	return out, found, nil
}

// dividePart cuts one part into pieces that printers take.
func dividePart(in Input, i int) ([]model.Piece, []model.Cut, finding.List) {
	part := in.Parts[i]
	accepted := acceptedOf(part, in.Cuts)
	if part.Form != model.Flat && part.Form != model.Imported {
		w := workOf(in, part.ID)
		if len(w.raw.Outer) == 0 {
			return nil, nil, nil // shape has said why
		}
		cuts, found := w.chooseCuts(accepted)
		found.Add(inTheWay(in, i)...)
		return w.pieces(cuts), cuts, found
	}
	s := sliceOf(in, i)
	if s.raw.Solid.Empty() {
		return nil, nil, nil
	}
	cuts, found := s.chooseCuts(accepted)
	return s.pieces(in.Core, cuts), cuts, found
}

func acceptedOf(part model.Part, cuts []model.Cut) []model.Cut {
	var out []model.Cut
	for _, c := range cuts {
		if c.Part == part.ID {
			out = append(out, c)
		}
	}
	return out
}

// pieces are the shells between the cuts of a part.
func (w work) pieces(cuts []model.Cut) []model.Piece {
	return piecesOf(w.part, model.Shell, w.part.Span, cuts, w.direction)
}

// piecesOf are the pieces of a kind between the cuts of a part.
func piecesOf(part model.Part, kind model.PieceKind, whole model.Span, cuts []model.Cut, direction func(from, to float64) model.Direction) []model.Piece {
	bounds := []model.Cut{{ID: model.Foot, Station: whole.From}}
	bounds = append(bounds, cuts...)
	bounds = append(bounds, model.Cut{ID: model.Nose, Station: whole.To})
	var out []model.Piece
	for i := 1; i < len(bounds); i++ {
		below, above := bounds[i-1], bounds[i]
		span := model.Span{From: below.Station, To: above.Station}
		name := part.ID
		if len(cuts) > 0 {
			name = fmt.Sprintf("%s %d of %d", part.ID, i, len(bounds)-1)
		}
		out = append(out, model.Piece{
			ID:        model.PieceID{Kind: kind, Part: part.ID, From: below.ID, To: above.ID},
			Name:      name,
			Span:      span,
			Filament:  part.Filament,
			Direction: direction(float64(span.From), float64(span.To)),
			Own:       !part.OnBody(),
		})
	}
	return out
}
