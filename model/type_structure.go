package model

import "scalewright/unit"

// WeightKind says what a weight is.
type WeightKind string

// Kinds of weight.
const (
	PrintWeight     WeightKind = "print"
	FinishWeight    WeightKind = "finish"
	CoreWeight      WeightKind = "core"
	ComponentWeight WeightKind = "component"
)

// Weight is one thing's mass, where its middle lies in the build's frame, mm, and
// the stretch of the axis that it takes.
type Weight struct {
	Name   string
	Kind   WeightKind
	Mass   unit.Value // g
	Centre [3]float64
	Span   Span
}

// Structure is what the build weighs, how it is carried and how it stands. Zero
// where it does not apply: a build without a core bends in no way that is known.
type Structure struct {
	Weights []Weight   // prints, finish, core, components
	Total   unit.Value // g, without the stand
	Centre  [3]float64 // mm in the build's frame
	Lift    float64    // kg that one person should lift at most
	Lifted  []Lifted   // the build, what comes apart from it, the stand; heaviest first
	Hands   [2]unit.Length
	Carried Bending // on two hands, at Hands
	Stored  Bending // the same for months: the core creeps
	Raised  Bending // held at the core's lower end, lying level
	Stand   Standing
}

// Lifted is one thing that somebody has to lift.
type Lifted struct {
	Name   string
	Mass   unit.Mass
	People int
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
	Base       unit.Mass   // base, ballast and post
	Height     unit.Length // of everything, from the floor
	Middle     unit.Length // height of the centre of mass above the floor, stand included
	Tips       float64     // rad, at which it falls over
	Needs      float64     // rad, that it must bear
	Push       float64     // N, that it must bear
	PushAt     unit.Length // height above the floor
	PushTips   float64     // N, that tips it
	Sway       unit.Length // of the top, under that push
	Lean       unit.Length // of the top from plumb as it stands: play in the core, and the weight for months
	Stress     float64     // MPa, in the post
	Allows     float64     // MPa
	CoreStress float64     // MPa, in the core where it leaves the post
	CoreAllows float64     // MPa
	Floor      float64     // kg/m² under the base
	Rings      PostRings
}

// PostRings hold a post in a core that is wider: two, at Stations. Zero where the
// post fits the core itself.
type PostRings struct {
	Outside  unit.Length // of a ring, for the core's bore
	Bore     unit.Length // for the post
	Stations [2]unit.Length
	Bears    float64 // N, the most that one presses sideways on the core
}
