package main

import (
	"context"
	"fmt"
	"time"

	"scalewright/solid"
)

type meshThicknessCmd struct {
	File  string `arg:"" help:"Mesh file: STL, 3MF or OBJ."`
	Balls bool   `help:"Measure by the largest ball that touches the surface from inside, not by the way straight through."`
	JSON  bool   `name:"json" help:"Print one JSON object (it is always printed; for symmetry)."`
}

// thicknessReport is what mesh thickness says.
type thicknessReport struct {
	meshReport
	Thickness thicknessFigures `json:"thickness_mm"`
}

// thicknessFigures are over the triangles, each counting once.
type thicknessFigures struct {
	Min float64   `json:"min"`
	P50 float64   `json:"p50"`
	P99 float64   `json:"p99"`
	At  solid.Vec `json:"min_at_mm"` // the middle of the triangle where it is least
}

func (c *meshThicknessCmd) Run(ctx context.Context, f *face) error {
	began := time.Now()
	m, err := readMesh(ctx, c.File)
	if err != nil {
		return err
	}
	if _, err := m.Opposites(); err != nil {
		return refused(c.File, "has no thickness", err)
	}
	kernel, done := f.kernel()
	found, err := kernel.Thickness(ctx, m, solid.ThicknessOptions{Balls: c.Balls})
	done()
	if err != nil {
		return refused(c.File, "has no thickness", err)
	}
	t := found.Ray
	if c.Balls {
		t = found.Ball
	}
	if t.At < 0 {
		return &usageError{fmt.Sprintf("%s has no triangle with anything behind it", c.File), "look at it with: scalewright mesh info " + c.File}
	}
	corners := m.Triangles[t.At]
	middle := m.Vertices[corners[0]].Add(m.Vertices[corners[1]]).Add(m.Vertices[corners[2]]).Scale(1.0 / 3)
	return printJSON(f.out, thicknessReport{reportOf(m, began), thicknessFigures{t.Min, t.P50, t.P99, middle}})
}
