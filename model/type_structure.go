package model

import "scalewright/unit"

// Weight is one thing's mass and where its middle lies in the build's frame, mm.
type Weight struct {
	Name   string
	Mass   unit.Value // g
	Centre [3]float64
}

// Structure is what the build weighs, how it is carried and how it stands. Zero
// where it does not apply: a build without a core bends in no way that is known.
type Structure struct {
	Weights []Weight   // prints by group, core, components, finish
	Total   unit.Value // g, without the stand
	Centre  [3]float64 // mm in the build's frame
	Lift    float64    // kg that one person should lift at most
	Hands   [2]unit.Length
	Carried Bending // on two hands, at Hands
	Raised  Bending // held at the core's lower end, lying level
	Stand   Standing
}

// Bending is how the core bends.
type Bending struct {
	Droop  unit.Length
	At     unit.Length // station
	Stress float64     // MPa
	Allows float64     // MPa
}

// Standing is how the build stands.
type Standing struct {
	Base     unit.Mass   // base, ballast and post
	Height   unit.Length // of everything, from the floor
	Middle   unit.Length // height of the centre of mass above the floor, stand included
	Tips     float64     // rad, at which it falls over
	Needs    float64     // rad, that it must bear
	Push     float64     // N, that it must bear
	PushAt   unit.Length // height above the floor
	PushTips float64     // N, that tips it
	Sway     unit.Length // of the top, under that push
	Stress   float64     // MPa, in the post
	Allows   float64     // MPa
	Floor    float64     // kg/m² under the base
}
