package job

import (
	"context"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/finishing"
)

// finishing plans the way from print to painted.
func (r *runner) finishing(ctx context.Context) error {
	d := r.out.Design
	in := finishing.Input{
		Parts: d.Parts, Division: r.out.Division, Mounts: d.Mounts, Openings: d.Openings, Fits: r.out.Fits,
		Carved: r.out.Carved, Prints: r.out.Prints, Printers: d.Shop.Printers, Finish: d.Finish, Took: r.out.Facts.TookTask,
	}
	key := finishingStage.Key(d.Parts, in.Division, in.Mounts, in.Fits, in.Prints, in.Printers, in.Finish, in.Took, r.carvedKeys)
	value, found, err := remember(ctx, r, finishingStage, key, func(ctx context.Context) (model.Finishing, finding.List, error) {
		return finishing.Run(ctx, in)
	})
	r.out.Finishing = value
	r.found.Add(found...)
	return err
}
