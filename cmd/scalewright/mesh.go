package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"scalewright/formats"
	"scalewright/solid"
)

type meshCmd struct {
	Info    meshInfoCmd    `cmd:"" help:"Triangles, volume, area, bounds, and whether it is closed."`
	Cut     meshCutCmd     `cmd:"" help:"Cut a closed mesh by a plane into two closed ones."`
	Section meshSectionCmd `cmd:"" help:"Area, perimeter and loops where a plane meets a closed mesh."`
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

type meshInfoCmd struct {
	File string `arg:"" help:"STL or 3MF file."`
	JSON bool   `name:"json" help:"Print one JSON object (it is always printed; for symmetry)."`
}

func (c *meshInfoCmd) Run(f *face) error {
	began := time.Now()
	m, err := readMesh(c.File)
	if err != nil {
		return err
	}
	return printJSON(f.out, reportOf(m, began))
}

type meshCutCmd struct {
	File  string `arg:"" help:"STL or 3MF file."`
	Plane string `help:"nx,ny,nz,d: keeps where n·x > d." required:""`
	Out   string `short:"o" help:"File for the half that is kept (.stl or .3mf)." required:""`
	Other string `help:"File for the other half."`
}

func (c *meshCutCmd) Run(f *face) error {
	began := time.Now()
	plane, err := parsePlane(c.Plane)
	if err != nil {
		return err
	}
	m, err := readMesh(c.File)
	if err != nil {
		return err
	}
	above, below, err := solid.Cut(m, plane)
	if err != nil {
		return &usageError{fmt.Sprintf("%s cannot be cut: %v", c.File, err), "look at it with: scalewright mesh info " + c.File}
	}
	if above.Empty() || c.Other != "" && below.Empty() {
		return &usageError{fmt.Sprintf("the plane %s leaves one side of %s empty", c.Plane, c.File), "mesh info has its bounds"}
	}
	if c.Other != "" && filepath.Clean(c.Out) == filepath.Clean(c.Other) {
		return &usageError{"both halves would go into " + c.Out, "name two files"}
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

type meshSectionCmd struct {
	File  string `arg:"" help:"STL or 3MF file."`
	Plane string `help:"nx,ny,nz,d: the plane n·x = d." required:""`
}

func (c *meshSectionCmd) Run(f *face) error {
	began := time.Now()
	plane, err := parsePlane(c.Plane)
	if err != nil {
		return err
	}
	m, err := readMesh(c.File)
	if err != nil {
		return err
	}
	s, err := solid.Section(m, plane)
	if err != nil {
		return &usageError{fmt.Sprintf("%s has no section: %v", c.File, err), "look at it with: scalewright mesh info " + c.File}
	}
	loops := 0
	for _, r := range s.Regions {
		loops += 1 + len(r.Holes)
	}
	return printJSON(f.out, struct {
		Loops     int     `json:"loops"`
		Area      float64 `json:"area_mm2"`
		Perimeter float64 `json:"perimeter_mm"`
		Seconds   float64 `json:"seconds"`
	}{loops, s.Area, s.Perimeter, time.Since(began).Seconds()})
}

func printJSON(w io.Writer, v any) error {
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	return encoder.Encode(v)
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

func readMesh(name string) (solid.Mesh, error) {
	file, err := os.Open(name)
	if err != nil {
		return solid.Mesh{}, err
	}
	defer file.Close()
	var m solid.Mesh
	switch ext := strings.ToLower(filepath.Ext(name)); ext {
	case ".stl":
		m, err = formats.ReadSTL(file, formats.Limits{})
	case ".3mf":
		m, err = read3MF(file)
	default:
		return solid.Mesh{}, &usageError{fmt.Sprintf("%q is not a kind of mesh file known here", ext), "give an .stl or .3mf file"}
	}
	if err != nil {
		return solid.Mesh{}, &usageError{fmt.Sprintf("%s cannot be read: %v", name, err), "write it again from where it came"}
	}
	return m, nil
}

func read3MF(file *os.File) (solid.Mesh, error) {
	info, err := file.Stat()
	if err != nil {
		return solid.Mesh{}, err
	}
	model, err := formats.Read3MF(file, info.Size(), formats.Limits{})
	if err != nil {
		return solid.Mesh{}, err
	}
	return model.Mesh(formats.Limits{})
}

func writeMesh(name string, m solid.Mesh) error {
	var write func(io.Writer) error
	switch ext := strings.ToLower(filepath.Ext(name)); ext {
	case ".stl":
		write = func(w io.Writer) error {
			_, err := formats.WriteSTL(w, m, filepath.Base(name))
			return err
		}
	case ".3mf":
		write = func(w io.Writer) error {
			return formats.Write3MF(w, formats.Model{
				Objects: []formats.Object{{Name: strings.TrimSuffix(filepath.Base(name), ext), Mesh: m}},
				Items:   []formats.Item{{Object: 0, Transform: solid.Identity()}},
			})
		}
	default:
		return &usageError{fmt.Sprintf("%q is not a kind of mesh file known here", ext), "name an .stl or .3mf file"}
	}
	file, err := os.Create(name)
	if err != nil {
		return err
	}
	if err := write(file); err != nil {
		file.Close()
		return fmt.Errorf("write %s: %w", name, err)
	}
	return file.Close()
}
