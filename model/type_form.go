package model

import (
	"scalewright/finding"
	"scalewright/unit"
)

// Form says how a part gets its body.
type Form string

// Forms of a part.
const (
	// Turned parts are swept round an axis: a stretch of the body's outline, or
	// an outline of their own.
	Turned Form = "turned"
	// Flat parts are a closed outline with a thickness.
	Flat Form = "flat"
	// Imported parts come from a mesh file.
	Imported Form = "imported"
)

// Lie says how a flat part lies in its frame.
type Lie string

const (
	// Along: the outline is (station, radius) in the plane that holds the axis,
	// the thickness half to either side. A fin.
	Along Lie = "along"
	// Across: the outline is (x, y) square to the axis, the thickness from
	// Span.From towards Span.To. A board, a letter.
	Across Lie = "across"
)

// Plate is a flat part at full size: its outer loop, anticlockwise, its holes,
// clockwise, and its thickness. Points are (x, y) as Lie says.
type Plate struct {
	Lie   Lie
	Outer Outline
	Holes []Outline
	Thick unit.Length
}

// Import is a part that comes from a mesh file: the file and what its unit is
// multiplied by to be mm at full size.
type Import struct {
	File   string
	Scale  float64
	Hollow bool // leaves Wall behind its surface; else solid
}

// Mount joins a part to another off the axis they are turned on: a fin, a
// handle, a ring on a body's side. The guest ends at the host's surface.
type Mount struct {
	ID        string
	At        finding.Place
	Host      string // a part's id
	Guest     string
	Kind      JointKind // empty: divide chooses
	Glue      string
	Removable bool // always, where magnets hold it
}

// Opening is a hole through a part's wall at a station and a clocking, round or
// four-sided. A panel closes it again and comes off.
type Opening struct {
	ID       string
	At       finding.Place
	Part     string
	Station  unit.Length
	Clocking float64     // rad
	Across   unit.Length // of a round one; 0: four-sided
	Wide     unit.Length // round the body, along the arc
	High     unit.Length // along the axis
	Panel    bool
}
