package model

import "scalewright/unit"

// Current is what a component draws, mA.
type Current struct {
	Component string
	Idle      float64 // nothing plays
	Usual     float64
	Most      float64 // with the limiter on
}

// ShowDraw is what the whole build draws while a show runs, mA.
type ShowDraw struct {
	Show string
	Mean float64
	Most float64
	Held float64 // share of its brightest frame that the limiter lets through; 1: all
}

// WireRun is a wire as it is to be made.
type WireRun struct {
	Wire    Wire
	Gauge   int
	Length  unit.Length
	Guessed bool    // no way was laid for it
	Amps    float64 // at most
	Drop    float64 // V, there and back
	Colours string
	FromPin string
	ToPin   string
	Note    string
}

// RoadSupply is how long a power bank lasts.
type RoadSupply struct {
	Component string
	Hours     float64 // at the shows' mix, what keeps it on counted
	IdleMA    float64
	SwitchOff bool    // many banks would, at that draw
	KeepOnMA  float64 // mean of a load that keeps it on; 0: none is needed
}

// Effects is lights and sound worked out.
type Effects struct {
	Draws   []Current
	Shows   []ShowDraw
	Supply  string  // component
	Gives   float64 // mA
	Most    float64 // mA of everything at once, with the limiter
	Fuse    float64 // A, in the supply's lead; 0: the supply's own limit is all
	Celsius float64 // of the copper
	Least   float64 // V at the component that gets least, the supply at its lower limit
	Limit   int     // sum of all channels that the limiter allows in a frame
	Wires   []WireRun
	Road    []RoadSupply // power banks
	Program Program
}

// Program is what the controller runs.
type Program struct {
	Pixels  int
	Buttons []string // components, in the order of their pins
	Limit   int      // sum of all channels of a frame at most
	Shows   []ProgramShow
	Idle    int // of Shows; -1: none
}

// ProgramShow is a show in the controller's own units.
type ProgramShow struct {
	ID      string
	Button  int // of Buttons; -1: idle
	Sound   int // 1 to 4; 0: none
	Pattern Pattern
	Colour  [3]uint8
	Level   uint8
	Lasts   int // frames; 0: until something else starts
	Period  int // frames
}
