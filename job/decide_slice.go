package job

import (
	"context"

	"scalewright/model"
	"scalewright/stage/printing"
	"scalewright/stage/testslice"
	"scalewright/unit"
)

// testSlice cuts the slice to try first, and says how long it prints.
func (r *runner) testSlice(ctx context.Context) error {
	in := testslice.Input{
		Now:    tonight(r.out, r.found),
		Pieces: r.out.Division.Pieces, Carved: r.out.Carved, Prints: r.out.Prints,
		Seams: r.out.Division.Seams, Fits: r.out.Fits.Fits,
	}
	value, found, err := testslice.Run(ctx, in)
	r.out.Slice = value.Slice
	r.found.Add(found...)
	if err != nil || value.Slice == nil {
		return err
	}
	for i := range value.Slice.Sides {
		if err := r.printSlice(ctx, &value.Slice.Sides[i]); err != nil {
			return err
		}
	}
	return nil
}

// printSlice counts a side as any piece is counted; what it leaves unsupported
// is too small to speak of.
func (r *runner) printSlice(ctx context.Context, side *model.SliceSide) error {
	piece, _ := r.out.Division.Piece(side.Piece)
	printer, _ := r.out.Design.Shop.Printer(side.Printer)
	in := printing.Input{
		Piece:   model.Piece{ID: piece.ID, Name: piece.Name, Direction: model.FootDown, Printer: piece.Printer},
		Carved:  model.Carved{Piece: piece.ID, Solid: side.Solid, Reach: model.Span{To: unit.Length(side.Solid.Bounds().Max[2])}},
		Printer: printer, Density: r.density(piece.Filament),
	}
	print, _, err := printing.Run(ctx, in)
	side.Minutes, side.Grams = print.Minutes, print.Grams
	return err
}
