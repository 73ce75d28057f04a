package job

import (
	"context"

	"scalewright/finding"
	"scalewright/stage/inspect"
)

// inspect looks at the carved pieces together.
func (r *runner) inspect(ctx context.Context) error {
	d := r.out.Design
	in := inspect.Input{Parts: d.Parts, Mounts: d.Mounts, Division: r.out.Division, Carved: r.out.Carved}
	key := inspectStage.Key(in.Parts, in.Mounts, in.Division, r.carvedKeys)
	_, found, err := remember(ctx, r, inspectStage, key, func(ctx context.Context) (inspect.Result, finding.List, error) {
		return inspect.Run(ctx, in)
	})
	r.found.Add(found...)
	return err
}
