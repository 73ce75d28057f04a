package main

import (
	"context"
	"slices"
	"time"

	"scalewright/solid"
)

type meshUnionCmd struct {
	meshOperands
}

func (c *meshUnionCmd) Run(ctx context.Context, f *face) error {
	return c.run(ctx, f, func(k solid.Kernel, in []solid.Mesh) (solid.Mesh, error) { return k.Union(ctx, in...) })
}

type meshSubtractCmd struct {
	meshOperands
}

func (c *meshSubtractCmd) Run(ctx context.Context, f *face) error {
	return c.run(ctx, f, func(k solid.Kernel, in []solid.Mesh) (solid.Mesh, error) { return k.Subtract(ctx, in[0], in[1:]...) })
}

type meshIntersectCmd struct {
	meshOperands
}

func (c *meshIntersectCmd) Run(ctx context.Context, f *face) error {
	return c.run(ctx, f, func(k solid.Kernel, in []solid.Mesh) (solid.Mesh, error) { return k.Intersect(ctx, in...) })
}

// meshOperands are the files that a boolean takes and gives.
type meshOperands struct {
	Files []string `arg:"" help:"Mesh files, STL, 3MF or OBJ: the first, then those that are put to it."`
	Out   string   `short:"o" help:"File for the result." required:""`
	JSON  bool     `name:"json" help:"Print one JSON object (it is always printed; for symmetry)."`
}

func (c *meshOperands) run(ctx context.Context, f *face, operation func(solid.Kernel, []solid.Mesh) (solid.Mesh, error)) error {
	began := time.Now()
	if len(c.Files) < 2 {
		return &usageError{"one file alone has nothing to be put to", "name two mesh files or more"}
	}
	if err := mayWriteMesh(c.Out); err != nil {
		return err
	}
	in := make([]solid.Mesh, len(c.Files))
	for i, name := range c.Files {
		var err error
		if in[i], err = readMesh(ctx, name); err != nil {
			return err
		}
	}
	kernel, done := f.kernel()
	out, err := operation(kernel, in)
	done()
	if err != nil {
		// The kernel says what is wrong, not with which of them.
		if at := slices.IndexFunc(in, func(m solid.Mesh) bool { return !m.Closed() }); at >= 0 {
			return refused(c.Files[at], "cannot be used", err)
		}
		return err
	}
	if err := f.writeResult(c.Out, out); err != nil {
		return err
	}
	return printJSON(f.out, reportOf(out, began))
}
