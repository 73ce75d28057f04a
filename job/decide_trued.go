package job

import (
	"context"

	"scalewright/finding"
	"scalewright/stage/truing"
)

// trued trues the outline as declared. It comes behind the ratio: an edge of the shop
// is cut into the reference's outline at the size that full size makes of it.
func (r *runner) trued(ctx context.Context) error {
	if len(r.out.Trace.Outline) == 0 {
		return nil
	}
	in := truing.Input{Trace: r.out.Trace, Ratio: r.out.Enlarge.Ratio, True: r.in.Declared.Reference.True}
	value, found, err := remember(ctx, r, truingStage, truingStage.Key(in.Ratio, in.True, r.trail), func(ctx context.Context) (truing.Result, finding.List, error) {
		return truing.Run(ctx, in)
	})
	r.out.Trued, r.out.Trace = value, value.Trace
	r.found.Add(found...)
	return err
}
