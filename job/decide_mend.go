package job

import (
	"context"

	"scalewright/stage/mend"
)

// mend compares what is made with what is asked for.
func (r *runner) mend(ctx context.Context) error {
	in := mend.Input{
		Kept: r.in.Kept, Parts: r.out.Design.Parts, Division: r.out.Division, Fits: r.out.Fits.Fits, Carved: r.out.Carved,
	}
	_, found, err := mend.Run(ctx, in)
	for i := range found {
		found[i].Stage = "mend"
	}
	r.found.Add(found...)
	return err
}
