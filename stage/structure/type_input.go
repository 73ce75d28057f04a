package structure

import (
	"scalewright/model"
	"scalewright/unit"
)

// Input is what stands and where.
type Input struct {
	Parts      []model.Part
	Raw        []model.Raw // of Parts, in their order
	Division   model.Division
	Mounts     []model.Mount
	Carved     []model.Carved // of Division.Pieces
	Prints     []model.Print  // of Division.Pieces
	Filaments  []model.Filament
	Core       *model.Core
	Components []model.Component
	Places     model.Places
	Fits       []model.Fit
	Finish     model.Finish
	Stand      *model.Stand
	Site       *model.Site
	Length     unit.Length // overall
}

// Common practice, each a guess until weighed or measured.
const (
	gravity     = 9.80665 // m/s², standard gravity, ISO 80000-3
	printDoubt  = 0.08    // of a print's mass, standard uncertainty, shared by all prints
	coreDoubt   = 0.04
	finishShare = 0.05 // of the prints: primer, filler, paint
	finishDoubt = 0.03
	bought      = 0.25   // of a component's mass, standard uncertainty
	shakes      = 3.0    // handling: three times the dead load
	factor      = 3.0    // strength over what is allowed
	droopShare  = 100.0  // a droop of 1/100 of the length is seen
	swayShare   = 50.0   // a sway of 1/50 of the height frightens
	leanShare   = 100.0  // off plumb by 1/100 of the height is seen
	crowdNeeds  = 15.0   // degrees, where people touch it
	tableNeeds  = 10.0   // degrees, IEC 62368-1
	pushShare   = 0.13   // of the weight, IEC 62368-1
	pushMost    = 250.0  // N, the same
	pushHigh    = 1500.0 // mm, the same
	leanTouch   = 100.0  // N, a hand that leans on it
	leanReach   = 40.0   // N, somebody who stumbles against it
	leanHigh    = 1200.0
	handsRoom   = 25.0 // mm to each side in a door
	warmGuard   = 10.0 // K below the glass transition
	sunWindow   = 15.0 // K over the air, dark paint behind a window
	sunOpen     = 30.0 // K, in the open
	ringPlay    = 0.5  // mm between a ring round the post and the core's bore
	touching    = 0.2  // mm, a print that touches the base so deep is a layer's worth
)
