package model

import (
	"scalewright/finding"
	"scalewright/stock"
	"scalewright/unit"
)

// Design is a build at full size: every length in it is what the rule shows.
type Design struct {
	Name       string
	Outline    Outline    // of the whole turned body, on the build's axis; none where nothing is turned on it
	Length     unit.Value // overall, mm
	Parts      []Part     // by station
	Core       *Core
	Interfaces []Interface // where two parts meet, by station
	Cuts       []Cut       // accepted cuts, by station
	Mounts     []Mount     // where parts meet off the axis, by id
	Openings   []Opening   // by id
	Finish     Finish
	Site       *Site
	Stand      *Stand
	Components []Component // by id
	Shows      []Show      // by id
	Shop       Shop
	Error      ErrorAt // largest doubt of the reference, at full size
}

// ErrorAt is the standard uncertainty at the station where it is largest.
type ErrorAt struct {
	Station unit.Length `json:"station_mm"`
	U       unit.Length `json:"u_mm"`
}

// State says whether a part may still change.
type State string

// States of a part.
const (
	Open    State = "open"
	Settled State = "settled"
)

// Axis is a part's own axis in the build's frame: the place of its station 0
// and its direction, a unit vector. The zero value is the build's own axis.
//
// Its own clocking 0 is the build's +Z made square to it (the build's +X where it
// runs along ±Z), turned by Clocking.
type Axis struct {
	Position  [3]unit.Length
	Direction [3]float64
	Clocking  float64 // rad
}

// IsBuild reports whether it is the build's own axis, at whatever clocking.
func (a Axis) IsBuild() bool { return a == Axis{Clocking: a.Clocking} }

// Part is one designed thing at full size, on its own axis.
type Part struct {
	ID       string
	Declared string // what it is called in the build file, where it is a copy
	At       finding.Place
	Axis     Axis
	Span     Span // on its own axis
	Form     Form
	Outline  Outline     // of a turned part: outer profile over the span
	Own      bool        // the outline is its own, not a stretch of the body's
	Doubt    unit.Length // standard uncertainty of its own outline
	Bore     unit.Length // diameter bored along its own axis; 0: none
	Plate    Plate       // of a flat part
	Import   Import      // of an imported one
	Finished bool        // its outside is finished with the build's
	Wall     unit.Length
	OpenFoot bool // the end at Span.From has no wall across it
	OpenNose bool
	Printers []string // permitted; empty: any
	Filament string
	State    State
}

// OnBody reports whether the part is a stretch of the turned body.
func (p Part) OnBody() bool { return !p.Own }

// CoreHold is how pieces sit on the core.
type CoreHold string

const (
	// Bored pieces are solid down to the pipe.
	Bored CoreHold = "bored"
	// Spaced pieces are hollow and ride on core rings.
	Spaced CoreHold = "spaced"
)

// Core is the stock pipe or rod inside.
type Core struct {
	At    finding.Place
	Stock stock.Pipe
	Span  Span
	Hold  CoreHold
}

// Interface is where two parts meet: two faces at one station. Below is the
// part nearer the datum.
type Interface struct {
	ID        string
	At        finding.Place
	Below     string
	Above     string
	Station   unit.Length
	Kind      JointKind // empty: divide chooses
	Glue      string
	Removable bool
}

// Cut divides a part. A provisional cut was computed and bears no id yet that
// may be written down.
type Cut struct {
	ID          string
	At          finding.Place
	Part        string
	Station     unit.Length
	Kind        JointKind // empty: divide chooses
	Provisional bool
}
