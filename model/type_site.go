package model

import (
	"scalewright/finding"
	"scalewright/stock"
	"scalewright/unit"
)

// Site is where the build lives: its climate, its public, its way in.
type Site struct {
	At       finding.Place
	Name     string
	Coldest  float64 // °C
	Warmest  float64 // °C, of the air
	Sun      Sun
	Hours    float64 // a day that it runs
	Reach    Reach
	TiltRad  float64 // how far the floor is off level
	Bears    float64 // what the floor bears, kg/m²; 0: not known
	Passages []Passage
}

// Sun says how much of it reaches the build.
type Sun string

// Kinds of sun.
const (
	NoSun     Sun = "none"
	WindowSun Sun = "window"
	OpenSun   Sun = "open"
)

// Reach says how near the public comes.
type Reach string

// Reaches of the public.
const (
	Touches Reach = "touches"  // people lean on it
	Reaches Reach = "reaches"  // an arm's length away
	KeptOff Reach = "kept off" // a barrier
)

// Passage is a door or a lift on the way: what the build is carried through.
type Passage struct {
	At   finding.Place
	Name string
	Wide unit.Length
	High unit.Length
	Deep unit.Length // of a lift's car; 0: a door
}

// Stand carries the core's load to the floor: a base plate, and a post that
// reaches into the core.
type Stand struct {
	At      finding.Place
	Across  unit.Length // of the base: diameter, or side of a square
	Square  bool
	Thick   unit.Length // of the base
	Density float64     // of the base, g/cm³
	Ballast unit.Mass   // laid on the base
	Post    stock.Pipe
	Engage  unit.Length // length of post inside the core
	Below   unit.Length // from the top of the base to station 0
}
