package fit

import (
	"scalewright/model"
	"scalewright/unit"
)

// Input is what fitting depends on.
type Input struct {
	Parts     []model.Part
	Raw       []model.Raw // of the same parts, in the same order
	Core      *model.Core
	CoreWidth *unit.Value // widest diameter as measured; nil: the table's
	Division  model.Division
	Stand     *model.Stand
	Printers  []model.Printer
	Kept      []model.Kept // made pieces: their sizes are facts
	Seed      uint64
}

// Result is the sizes and the chances.
type Result = model.Fits

// MostLoose is the clearance past which pieces no longer centre themselves, mm on
// the diameter: common practice, a guess until logged.
const MostLoose = 1.00

// Common practice, each a guess until logged, mm on the diameter.
const (
	leastGlued   = 0.15 // a glued slip fit: room for the film of glue
	leastCore    = 0.30 // a ring that slides along a pipe
	scatter      = 0.05 // from piece to piece on one printer, standard uncertainty
	spare        = 2.0  // standard uncertainties kept in hand
	ringEdge     = 6.0  // mm radius of material a core ring needs
	guessedGrade = 13   // of what nobody measured prints: common practice, IT13
	leastPin     = 3.0  // mm diameter a spigot needs: design rules of printing services
	wallsRun     = 1.15 // pipe walls run so much over their least: table rows of ASTM D1785 to 12 %
)
