package stock

import (
	_ "embed"

	"scalewright/unit"
)

// Pipe is a stock tube or rod: what the table says until somebody measures it. A
// rod's wall reaches its middle.
type Pipe struct {
	ID       string
	Name     string      // trade name, as sold
	Standard string      // that gives its sizes
	OD       unit.Length // mean outside diameter, least
	ODMost   unit.Length // mean outside diameter, largest
	Oval     unit.Length // out-of-roundness: largest less smallest diameter
	Wall     unit.Length // least
	Density  float64     // g/cm³
	Made     string      // of what: id of a [Substance]
	Source   string
	Basis    string
}

//go:embed pipes.csv
var pipesCSV string

// Pipes are all pipes of the table, in its order.
func Pipes() []Pipe {
	var pipes []Pipe
	for _, r := range rows(pipesCSV) {
		pipes = append(pipes, Pipe{
			ID: r.text("id"), Name: r.text("name"), Standard: r.text("standard"),
			OD: r.length("od_mm"), ODMost: r.length("od_most_mm"), Oval: r.length("oval_mm"),
			Wall: r.length("wall_mm"), Density: r.number("density_g_cm3"),
			Made: r.text("substance"), Source: r.text("source"), Basis: r.text("basis"),
		})
	}
	return pipes
}

// FindPipe is the pipe of an id.
func FindPipe(id string) (Pipe, bool) {
	for _, p := range Pipes() {
		if p.ID == id {
			return p, true
		}
	}
	return Pipe{}, false
}

// Rod reports whether it is solid.
func (p Pipe) Rod() bool { return 2*p.Wall >= p.OD }

// Widest is the largest diameter a bought length may show anywhere: the mean
// at its largest and half the out-of-roundness.
func (p Pipe) Widest() unit.Length { return p.ODMost + p.Oval/2 }
