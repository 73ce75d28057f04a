package testslice

import (
	"context"
	"fmt"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// Run cuts the slice.
func Run(_ context.Context, in Input) (Result, finding.List, error) {
	fit, ok := in.choose()
	if !ok {
		return Result{}, nil, nil
	}
	out := model.TestSlice{Seam: fit.Seam, Clearance: fit.Clearance}
	for k, id := range []string{fit.Male, fit.Female} {
		i, _ := in.index(id)
		side, err := in.side(i, fit, k == 0)
		if err != nil {
			return Result{}, nil, fmt.Errorf("slice %s: %w", id, err)
		}
		out.Sides = append(out.Sides, side)
		if id == in.Now || out.Piece == (model.PieceID{}) {
			out.Piece = side.Piece
		}
	}
	return Result{Slice: &out}, nil, nil
}

// choose takes the first joint of the piece to print now; else the joint most
// likely to need work.
func (in Input) choose() (model.Fit, bool) {
	var best model.Fit
	found := false
	for _, s := range in.Seams {
		for _, f := range in.Fits {
			_, male := in.index(f.Male)
			_, female := in.index(f.Female)
			if f.Seam != s.ID || !male || !female {
				continue
			}
			if in.Now != "" && (f.Male == in.Now || f.Female == in.Now) {
				return f, true
			}
			if !found || f.Bind+f.Loose > best.Bind+best.Loose {
				best, found = f, true
			}
		}
	}
	return best, found
}

func (in Input) index(id string) (int, bool) {
	for i, p := range in.Pieces {
		if p.ID.String() == id {
			return i, true
		}
	}
	return 0, false
}

// side cuts one piece's end at the joint.
func (in Input) side(i int, fit model.Fit, inside bool) (model.SliceSide, error) {
	piece, carved, print := in.Pieces[i], in.Carved[i], in.Prints[i]
	out := model.SliceSide{Piece: piece.ID, Inside: inside, Printer: piece.Printer, Size: fit.Bore}
	if inside {
		out.Size = fit.MaleSize
	}
	out.Span = span(piece, carved.Reach, fit, inside)
	above, _, err := solid.Cut(carved.Solid, solid.PlaneZ(float64(out.Span.From)))
	if err != nil {
		return out, err
	}
	_, between, err := solid.Cut(above, solid.PlaneZ(float64(out.Span.To)))
	if err != nil {
		return out, err
	}
	placed := between.Transform(print.Placement)
	out.Solid = placed.Translate(solid.Vec{0, 0, -placed.Bounds().Min[2]})
	return out, nil
}

// span is the stretch of the piece that the joint's other side touches: of what
// goes in, its tip; of what takes it, its mouth.
func span(piece model.Piece, reach model.Span, fit model.Fit, inside bool) model.Span {
	long := min(most, max(least, fit.Depth/2))
	up := model.Span{From: fit.Station, To: min(fit.Station+long, reach.To)}
	down := model.Span{From: max(fit.Station-long, reach.From), To: fit.Station}
	switch {
	case piece.ID.Kind == model.CollarRing:
		return model.Span{From: max(reach.From, reach.To-long), To: reach.To}
	case inside && middle(piece.Span) > fit.Station: // a spigot that hangs out of the upper piece
		return model.Span{From: reach.From, To: min(reach.From+long, reach.To)}
	case inside:
		return model.Span{From: max(reach.From, reach.To-long), To: reach.To}
	case middle(piece.Span) < fit.Station: // a socket in the lower piece
		return down
	}
	return up
}

func middle(s model.Span) unit.Length { return (s.From + s.To) / 2 }
