package job

import (
	"context"

	"scalewright/finding"
	"scalewright/job/recipe"
	"scalewright/model"
	"scalewright/stage/place"
)

// place finds room for components and wires; a build without any has none.
func (r *runner) place(ctx context.Context, p *pieces, divided recipe.Key) error {
	d := r.out.Design
	if len(d.Components) == 0 {
		return nil
	}
	in := place.Input{Design: d, Raw: r.out.Raw, Division: p.division}
	key := placeStage.Key(divided, d.Components, d.Openings, d.Stand, d.Outline)
	value, found, err := remember(ctx, r, placeStage, key, func(ctx context.Context) (model.Places, finding.List, error) {
		return place.Run(ctx, in)
	})
	p.places = value
	p.found.Add(found...)
	return err
}
