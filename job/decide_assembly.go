package job

import (
	"context"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/assembly"
)

// assembly finds the order in which everything goes together.
func (r *runner) assembly(ctx context.Context) error {
	in := assembly.Input{Division: r.out.Division, Design: r.out.Design, Places: r.out.Places}
	for _, c := range r.out.Carved {
		in.Shapes = append(in.Shapes, assembly.ShapeOf(c))
	}
	value, found, err := remember(ctx, r, assemblyStage, assemblyStage.Key(in), func(ctx context.Context) (model.Assembly, finding.List, error) {
		return assembly.Run(ctx, in)
	})
	r.out.Assembly = value
	r.found.Add(found...)
	return err
}
