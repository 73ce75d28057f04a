package main

import (
	"context"
	"time"

	"scalewright/solid"
)

type meshSectionCmd struct {
	File  string `arg:"" help:"Mesh file: STL, 3MF or OBJ."`
	Plane string `help:"nx,ny,nz,d: the plane n·x = d." required:""`
}

// sectionReport is what mesh section says.
type sectionReport struct {
	Loops     int     `json:"loops"`
	Area      float64 `json:"area_mm2"`
	Perimeter float64 `json:"perimeter_mm"`
	Seconds   float64 `json:"seconds"`
}

func (c *meshSectionCmd) Run(ctx context.Context, f *face) error {
	began := time.Now()
	plane, err := parsePlane(c.Plane)
	if err != nil {
		return err
	}
	m, err := readMesh(ctx, c.File)
	if err != nil {
		return err
	}
	s, err := solid.Section(m, plane)
	if err != nil {
		return refused(c.File, "has no section", err)
	}
	r := sectionReport{Area: s.Area, Perimeter: s.Perimeter, Seconds: time.Since(began).Seconds()}
	for _, region := range s.Regions {
		r.Loops += 1 + len(region.Holes)
	}
	return printJSON(f.out, r)
}
