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
	found := together(in.Parts)
	for i, part := range in.Parts {
		if err := ctx.Err(); err != nil {
			return out, found, err
		}
		w := work{part: part, raw: in.Raw[i], core: in.Core, printers: permitted(part, in.Printers)}
		if len(w.raw.Outer) == 0 {
			continue // shape has said why
		}
		cuts, more := w.chooseCuts(acceptedOf(part, in.Cuts))
		found.Add(more...)
		out.Cuts = append(out.Cuts, cuts...)
		out.Pieces = append(out.Pieces, w.pieces(cuts)...)
	}
	if found.Blocked() {
		return model.Division{}, found, nil
	}
	out.Seams = seams(in, out.Pieces, out.Cuts)
	found.Add(unheld(in, out.Seams)...)
	out.Seats = seats(in, out)
	found.Add(room(in, out)...)
	found.Add(held(in, out)...)
	if found.Blocked() {
		return model.Division{}, found, nil
	}
	out.Pieces = append(out.Pieces, small(in, out)...)
	balance(in, out)
	return out, found, nil
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
	bounds := []model.Cut{{ID: model.Foot, Station: w.part.Span.From}}
	bounds = append(bounds, cuts...)
	bounds = append(bounds, model.Cut{ID: model.Nose, Station: w.part.Span.To})
	var out []model.Piece
	for i := 1; i < len(bounds); i++ {
		below, above := bounds[i-1], bounds[i]
		span := model.Span{From: below.Station, To: above.Station}
		name := w.part.ID
		if len(cuts) > 0 {
			name = fmt.Sprintf("%s %d of %d", w.part.ID, i, len(bounds)-1)
		}
		out = append(out, model.Piece{
			ID:        model.PieceID{Kind: model.Shell, Part: w.part.ID, From: below.ID, To: above.ID},
			Name:      name,
			Span:      span,
			Filament:  w.part.Filament,
			Direction: w.direction(float64(span.From), float64(span.To)),
		})
	}
	return out
}
