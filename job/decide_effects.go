package job

import (
	"context"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/effects"
)

// effects works out lights and sound.
func (r *runner) effects(ctx context.Context) error {
	d := r.out.Design
	in := effects.Input{Components: d.Components, Shows: d.Shows, Places: r.out.Places, Site: d.Site}
	value, found, err := remember(ctx, r, effectsStage, effectsStage.Key(in), func(ctx context.Context) (model.Effects, finding.List, error) {
		return effects.Run(ctx, in)
	})
	r.out.Effects = value
	r.found.Add(found...)
	return err
}
