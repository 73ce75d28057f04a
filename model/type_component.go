package model

import (
	"slices"

	"scalewright/finding"
	"scalewright/stock"
	"scalewright/unit"
)

// Service says who must reach a component after the build is closed.
type Service string

// Kinds of service.
const (
	Sealed   Service = "sealed"  // never reached again
	Serviced Service = "service" // reached with tools
	Pressed  Service = "pressed" // the public's hand
	Outside  Service = "outside" // not in the build: an adapter at the wall
)

// Component is a bought thing of lights and sound with a place in the build.
type Component struct {
	ID       string
	At       finding.Place
	Kind     stock.Component
	Part     string      // that holds it; empty: outside
	Opening  string      // that it sits in: a button's hole
	Station  unit.Length // wished for; NaN never: see Placed
	Clocking float64     // rad
	Placed   bool        // Station and Clocking were declared
	Pixels   int         // of a strip
	Service  Service
	Length   unit.Length // of a strip, along itself
}

// Bay is the room a component got: a box in the build's frame.
type Bay struct {
	Component string
	Part      string
	Piece     PieceID
	Centre    [3]unit.Length
	Axes      [3][3]float64  // unit vectors: length, width, height of the component
	Size      [3]unit.Length // plugs and spare room included; of a strip wound round, its ring
	Wound     unit.Length    // radius of a strip wound round the axis; 0: a box
	Reached   []string       // openings and removable seams through which a hand gets at it
}

// Way is the way a cable takes: corners in the build's frame, and its length
// with slack.
type Way struct {
	Wire   string
	From   string
	To     string
	Path   [][3]unit.Length
	Length unit.Length
	Passes []Pass
}

// Pass is a hole that a cable needs through a piece that blocks the way, along the
// axis, or through the core's wall, along its radius.
type Pass struct {
	Piece    PieceID // none: the core
	Core     bool
	Station  unit.Length
	Clocking float64
	Radius   unit.Length // of its centre from the axis
	Across   unit.Length
}

// Places is what place decides.
type Places struct {
	Bays []Bay // of Design.Components that lie in the build and found room, in their order
	Ways []Way
}

// Bay of a component; false when it has none.
func (p Places) Bay(component string) (Bay, bool) {
	for _, b := range p.Bays {
		if b.Component == component {
			return b, true
		}
	}
	return Bay{}, false
}

// CoreHoles are the holes through the core's wall, each once.
func (p Places) CoreHoles() []Pass {
	var out []Pass
	for _, w := range p.Ways {
		for _, h := range w.Passes {
			if h.Core && !slices.Contains(out, h) {
				out = append(out, h)
			}
		}
	}
	return out
}

// Wire joins two components: power, data or sound, with so many conductors.
type Wire struct {
	ID         string
	From, To   string
	Carries    Carries
	Conductors int
}

// Carries says what a wire is for.
type Carries string

// What wires carry.
const (
	Power  Carries = "power"
	Data   Carries = "data"
	Sound  Carries = "sound"
	Switch Carries = "switch"
)

// Show is what lights and sound do when something happens.
type Show struct {
	ID      string
	At      finding.Place
	Button  string // component that starts it; empty: when nothing else runs
	Sound   int    // number of the sound file; 0: none
	Pattern Pattern
	Colour  [3]uint8 // red, green, blue
	Level   float64  // 0 to 1, of full brightness
	Lasts   float64  // s; 0: until something else starts
	Period  float64  // s, of one swing of the pattern
}

// Pattern says how light moves.
type Pattern string

// Patterns of light.
const (
	Steady  Pattern = "steady"
	Breathe Pattern = "breathe" // up and down, all together
	Flicker Pattern = "flicker" // like a flame
	Run     Pattern = "run"     // one after the other
)
