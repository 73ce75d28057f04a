package finishing_test

import (
	"context"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stage/finishing"
	"scalewright/stage/seen"
	"scalewright/unit"
)

// finish plans the finish of what package seen sees.
func finish(in finishing.Input) (model.Finishing, finding.List, error) {
	look := seen.Input{Division: in.Division, Carved: in.Carved, Prints: in.Prints, Layers: map[string]unit.Length{}}
	for _, p := range in.Parts {
		if p.Finished {
			look.Finished = append(look.Finished, p.ID)
		}
	}
	for _, p := range in.Printers {
		look.Layers[p.ID] = p.Layer
	}
	var err error
	if in.Surfaces, _, err = seen.Run(context.Background(), look); err != nil {
		return model.Finishing{}, nil, err
	}
	return finishing.Run(context.Background(), in)
}
