package job

import (
	"context"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/stage/finishing"
	"scalewright/stage/seen"
	"scalewright/unit"
)

// seen finds what of each piece shows, where it is to be finished.
func (r *runner) seen(ctx context.Context) ([]model.Surface, error) {
	d := r.out.Design
	if d.Finish.Grade == model.Unfinished || d.Finish.Grade == "" {
		return nil, nil
	}
	in := seen.Input{Division: r.out.Division, Carved: r.out.Carved, Prints: r.out.Prints, Layers: map[string]unit.Length{}}
	for _, p := range d.Parts {
		if p.Finished {
			in.Finished = append(in.Finished, p.ID)
		}
	}
	for _, p := range d.Shop.Printers {
		in.Layers[p.ID] = p.Layer
	}
	var lies []solid.Transform
	for _, p := range r.out.Prints {
		lies = append(lies, p.Placement)
	}
	surfaces, found, err := remember(ctx, r, seenStage, seenStage.Key(in.Finished, in.Division.Pieces, in.Layers, lies, r.carvedKeys), func(ctx context.Context) ([]model.Surface, finding.List, error) {
		return seen.Run(ctx, in)
	})
	r.found.Add(found...)
	return surfaces, err
}

// finishing plans the way from print to painted.
func (r *runner) finishing(ctx context.Context) error {
	d := r.out.Design
	surfaces, err := r.seen(ctx)
	if err != nil {
		return err
	}
	in := finishing.Input{
		Parts: d.Parts, Division: r.out.Division, Mounts: d.Mounts, Openings: d.Openings, Fits: r.out.Fits,
		Carved: r.out.Carved, Prints: r.out.Prints, Printers: d.Shop.Printers, Finish: d.Finish, Surfaces: surfaces, Took: r.out.Facts.TookTask,
	}
	key := finishingStage.Key(d.Parts, in.Division, in.Mounts, in.Fits, in.Prints, in.Printers, in.Finish, in.Took, r.carvedKeys, surfaces)
	value, found, err := remember(ctx, r, finishingStage, key, func(ctx context.Context) (model.Finishing, finding.List, error) {
		return finishing.Run(ctx, in)
	})
	r.out.Finishing = value
	r.found.Add(found...)
	return err
}
