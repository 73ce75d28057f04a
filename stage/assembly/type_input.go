package assembly

import (
	"scalewright/model"
	"scalewright/unit"
)

// Input is what the order depends on.
type Input struct {
	Division model.Division
	Shapes   []Shape // of Division.Pieces, in their order
	Design   model.Design
	Places   model.Places
	Limit    int // sets of joints that the search may look at; 0: usualLimit
}

// Shape is what the order must know of a carved piece.
type Shape struct {
	Loops [][]model.Point // of a turned one, on its own axis
	Span  model.Span      // that it takes along the build's axis
}

// ShapeOf is the shape of a carved piece.
func ShapeOf(c model.Carved) Shape {
	if c.Solid.Empty() {
		return Shape{Loops: c.Loops}
	}
	b := c.Solid.Bounds()
	return Shape{Loops: c.Loops, Span: model.Span{From: unit.Length(b.Min[2]), To: unit.Length(b.Max[2])}}
}

// Common practice, minutes of hands, each a guess until logged.
const (
	sawMinutes   unit.Minutes = 25
	drillMinutes unit.Minutes = 10 // a hole through the core's wall, its edges smoothed
	seatMinutes  unit.Minutes = 10
	seatHolds    unit.Minutes = 60 // until a seated ring stays where it is
	coreMinutes  unit.Minutes = 15
	glueMinutes  unit.Minutes = 30
	guestMinutes unit.Minutes = 20
	fitMinutes   unit.Minutes = 15 // a joint that is not glued
	panelMinutes unit.Minutes = 10
	holdMinutes  unit.Minutes = 2 // a pin or a screw
	pairMinutes  unit.Minutes = 5 // two magnets, marked and glued in
	putMinutes   unit.Minutes = 15
	drawMinutes  unit.Minutes = 15                       // with its first end connected
	hangMinutes  unit.Minutes = drawMinutes - endMinutes // both ends left hanging
	endMinutes   unit.Minutes = 10                       // an end
	tryMinutes   unit.Minutes = 10                       // what one joint shuts
	allMinutes   unit.Minutes = 30                       // everything, once it stands
	raiseMinutes unit.Minutes = 30
)

// usualLimit is far above the number of joints times the number of bodies, which
// is what an order takes that never turns back.
const usualLimit = 20_000

const (
	fingers = 25.0  // mm that a hand needs at its thinnest: common practice
	arm     = 500.0 // mm that a hand gets into a body: common practice
	// Sizes to print are off from those that come out by a printer's calibration,
	// some tenths. Whether a joint binds is judged by fit; here only what overlaps
	// by more than this on the radius is in the way, mm.
	rubs = 0.5
	// Faces that lie on each other meet to the grid of carve; arcs are chords.
	meets = 0.1 // mm along the axis
)
