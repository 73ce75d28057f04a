package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"scalewright/solid"
)

type meshCmd struct {
	Union     meshUnionCmd     `cmd:"" help:"Unite solids into one."`
	Subtract  meshSubtractCmd  `cmd:"" help:"Take from the first solid all the others, at once."`
	Intersect meshIntersectCmd `cmd:"" help:"Keep what all the solids share."`
	Info      meshInfoCmd      `cmd:"" help:"Triangles, volume, area, bounds, and whether it is closed."`
	Cut       meshCutCmd       `cmd:"" help:"Cut a closed mesh by a plane into two closed ones."`
	Section   meshSectionCmd   `cmd:"" help:"Area, perimeter and loops where a plane meets a closed mesh."`
	Thickness meshThicknessCmd `cmd:"" help:"How thick the walls are."`
	Repair    meshRepairCmd    `cmd:"" help:"Make a solid of what a file holds, and say what was changed."`
}

// meshReport is what every mesh command says of a mesh.
type meshReport struct {
	Triangles  int          `json:"triangles"`
	Closed     bool         `json:"closed"`
	Faults     []string     `json:"faults,omitempty"`
	Components int          `json:"components"`
	Volume     float64      `json:"volume_mm3"`
	Area       float64      `json:"area_mm2"`
	Bounds     [2]solid.Vec `json:"bounds_mm"`
	Seconds    float64      `json:"seconds"`
}

// How many faults a report spells out.
const faultsNamed = 10

func reportOf(m solid.Mesh, began time.Time) meshReport {
	faults := m.Check()
	r := meshReport{
		Triangles: len(m.Triangles), Closed: len(faults) == 0, Components: len(m.Components()),
		Volume: m.Volume(), Area: m.Area(), Bounds: [2]solid.Vec{m.Bounds().Min, m.Bounds().Max},
	}
	for _, fault := range faults[:min(faultsNamed, len(faults))] {
		r.Faults = append(r.Faults, fault.String())
	}
	r.Seconds = time.Since(began).Seconds()
	return r
}

// refused says why a file's mesh can't be worked on. A stop by the user and a
// fault of the disk stay what they are.
func refused(name, what string, err error) error {
	if _, ok := errors.AsType[*solid.NotSolidError](err); ok {
		return &usageError{fmt.Sprintf("%s %s: %v", name, what, err), fmt.Sprintf("scalewright mesh repair %s -o FILE", name)}
	}
	if value, ok := errors.AsType[*solid.ValueError](err); ok {
		return &usageError{fmt.Sprintf("%s %s: %v", name, what, value), "mesh info has its bounds"}
	}
	if errors.Is(err, context.Canceled) {
		return err
	}
	return fmt.Errorf("%s %s: %w", name, what, err)
}

// writeResult writes a mesh and says so where there is nothing in it.
func (f *face) writeResult(name string, m solid.Mesh) error {
	if m.Empty() {
		fmt.Fprintf(f.talk, "scalewright: nothing is left; %s holds an empty solid\n", name)
	}
	return writeMesh(name, m)
}

// parsePlane reads "0,0,1,3".
func parsePlane(text string) (solid.Plane, error) {
	fields := strings.Split(text, ",")
	var x [4]float64
	var err error
	if len(fields) != len(x) {
		err = fmt.Errorf("it has %d numbers", len(fields))
	}
	for i := 0; err == nil && i < len(x); i++ {
		x[i], err = strconv.ParseFloat(strings.TrimSpace(fields[i]), 64)
	}
	if err != nil {
		return solid.Plane{}, &usageError{fmt.Sprintf("%q is not a plane: %v", text, err), "write four numbers, nx,ny,nz,d, such as 0,0,1,3"}
	}
	return solid.Plane{Normal: solid.Vec{x[0], x[1], x[2]}, Offset: x[3]}, nil
}
