package model

import (
	"scalewright/finding"
	"scalewright/stock"
	"scalewright/unit"
)

// Design is a build at full size: every length in it is what the rule shows.
type Design struct {
	Name       string
	Outline    Outline    // of the whole turned body, on the build's axis
	Length     unit.Value // overall, mm
	Parts      []Part     // by station
	Core       *Core
	Interfaces []Interface // where two parts meet, by station
	Cuts       []Cut       // accepted cuts, by station
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
type Axis struct {
	Position  [3]unit.Length
	Direction [3]float64
}

// IsBuild reports whether it is the build's own axis.
func (a Axis) IsBuild() bool { return a == Axis{} }

// Part is one designed thing at full size, on its own axis.
type Part struct {
	ID       string
	At       finding.Place
	Axis     Axis
	Span     Span    // on its own axis
	Outline  Outline // outer profile over the span
	Wall     unit.Length
	OpenFoot bool // the end at Span.From has no wall across it
	OpenNose bool
	Printers []string // permitted; empty: any
	Filament string
	State    State
}

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

// JointKind is how two faces are held together.
type JointKind string

// Kinds of joint.
const (
	Butt   JointKind = "butt"
	Spigot JointKind = "spigot and socket"
	Collar JointKind = "collar"
)

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
