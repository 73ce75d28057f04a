package job

import (
	"context"

	"scalewright/stage/foresee"
)

// foresee ranks what may go wrong although nothing is wrong yet.
func (r *runner) foresee(ctx context.Context) error {
	in := foresee.Input{
		Parts: r.out.Design.Parts, Pieces: r.out.Division.Pieces, Prints: r.out.Prints, Fits: r.out.Fits.Fits,
		Error: r.out.Design.Error, Outline: r.out.Design.Outline, Failures: r.out.Facts.Failures,
	}
	for _, p := range r.out.Division.Pieces {
		if minutes, ok := r.out.Facts.Took[p.ID.String()]; ok {
			in.Printed = append(in.Printed, p.ID.String())
			in.Hours += minutes.Hours()
		}
	}
	value, found, err := foresee.Run(ctx, in)
	for i := range value {
		value[i].What.Stage = "foresee"
	}
	r.out.Risks = value
	r.found.Add(found...)
	return err
}
