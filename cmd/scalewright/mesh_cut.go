package main

import (
	"context"
	"fmt"
	"path/filepath"
	"time"

	"scalewright/solid"
)

type meshCutCmd struct {
	File  string `arg:"" help:"Mesh file: STL, 3MF or OBJ."`
	Plane string `help:"nx,ny,nz,d: keeps where n·x > d." required:""`
	Out   string `short:"o" help:"File for the half that is kept." required:""`
	Other string `help:"File for the other half."`
}

func (c *meshCutCmd) Run(ctx context.Context, f *face) error {
	began := time.Now()
	plane, err := parsePlane(c.Plane)
	if err != nil {
		return err
	}
	if c.Other != "" && filepath.Clean(c.Out) == filepath.Clean(c.Other) {
		return &usageError{"both halves would go into " + c.Out, "name two files"}
	}
	if err := mayWriteMesh(c.Out, c.Other); err != nil {
		return err
	}
	m, err := readMesh(ctx, c.File)
	if err != nil {
		return err
	}
	above, below, err := solid.Cut(m, plane)
	if err != nil {
		return refused(c.File, "cannot be cut", err)
	}
	if above.Empty() || c.Other != "" && below.Empty() {
		return &usageError{fmt.Sprintf("the plane %s leaves one side of %s empty", c.Plane, c.File), "mesh info has its bounds"}
	}
	if err := writeMesh(c.Out, above); err != nil {
		return err
	}
	if c.Other != "" {
		if err := writeMesh(c.Other, below); err != nil {
			return err
		}
	}
	return printJSON(f.out, reportOf(above, began))
}
