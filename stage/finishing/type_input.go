package finishing

import (
	"scalewright/model"
	"scalewright/unit"
)

// Input is what is to be finished and how far.
type Input struct {
	Parts    []model.Part
	Division model.Division
	Mounts   []model.Mount
	Openings []model.Opening
	Fits     model.Fits
	Surfaces []model.Surface // what is seen of finished pieces, in the division's order
	Carved   []model.Carved  // of Division.Pieces
	Prints   []model.Print   // of Division.Pieces
	Printers []model.Printer
	Finish   model.Finish
	Took     map[string]unit.Minutes // hands on tasks, as logged, by id
}

// Common practice, each a guess until logged.
const (
	rawRate     = 0.06  // m² of raw print sanded in an hour
	primerRate  = 0.22  // m² of primer between coats
	scuffRate   = 0.75  // m² of the last scuff
	taken       = 0.45  // of the depth that a cycle takes
	seamMinutes = 12.0  // to fill and sand a metre of seam
	seamPutty   = 15.0  // ml a metre of seam
	setUp       = 10    // minutes to set up for a coat and clean up
	square      = 1e6   // mm² in a m²
	shortest    = 5.0   // minutes that any bench work takes
	tube        = 100.0 // ml of putty in a tube
	passes      = 3     // of the can that one priming is
	puttied     = 0.1   // of the stairs is filled with putty; primer fills the rest
	feather     = 20.0  // widths of a lip over which putty takes it out
)

// limits of depth by grade, mm: common practice.
var limits = map[model.Grade]float64{model.StageGrade: 0.100, model.ArmGrade: 0.030, model.CloseGrade: 0.010}
