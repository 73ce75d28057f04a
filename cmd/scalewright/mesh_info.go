package main

import (
	"context"
	"time"
)

type meshInfoCmd struct {
	File string `arg:"" help:"Mesh file: STL, 3MF or OBJ."`
	JSON bool   `name:"json" help:"Print one JSON object (it is always printed; for symmetry)."`
}

func (c *meshInfoCmd) Run(ctx context.Context, f *face) error {
	began := time.Now()
	m, err := readMesh(ctx, c.File)
	if err != nil {
		return err
	}
	return printJSON(f.out, reportOf(m, began))
}
