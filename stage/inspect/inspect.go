package inspect

import (
	"context"

	"scalewright/finding"
	"scalewright/model"
)

// Input is the pieces as carved.
type Input struct {
	Parts    []model.Part
	Mounts   []model.Mount
	Division model.Division
	Carved   []model.Carved // of Division.Pieces
}

// Result is empty: what is found are findings.
type Result struct{}

// Run looks at walls and at what shares volume.
func Run(ctx context.Context, in Input) (Result, finding.List, error) {
	found := in.walls()
	shared, err := in.shared(ctx)
	found.Add(shared...)
	return Result{}, found, err
}
