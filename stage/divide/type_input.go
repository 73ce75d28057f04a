package divide

import (
	"scalewright/model"
	"scalewright/unit"
)

// Input is what dividing depends on.
type Input struct {
	Parts      []model.Part
	Raw        []model.Raw // of the same parts, in the same order
	Core       *model.Core
	Interfaces []model.Interface
	Cuts       []model.Cut // accepted
	Mounts     []model.Mount
	Openings   []model.Opening
	Stand      *model.Stand
	Printers   []model.Printer
	Told       map[string]unit.Minutes // printing time to count on at least, by piece id
}

// Common practice, each a guess until logged.
const (
	engageShare = 0.07 // of the diameter at the seam
	engageLeast = 8 * unit.Millimetre
	engageMost  = 20 * unit.Millimetre
	ringThick   = 6 * unit.Millimetre
	leastPiece  = 40.0 // mm along the axis that a cut leaves at least
	leastSpigot = 4.0  // mm radius inside that a spigot needs; narrower faces are glued flat
	standsOn    = 8.0  // mm radius a piece needs to stand on

	countedSpare    = 1.6    // printing takes so much longer than laying the shell, lands and roots included
	discFilled      = 0.3    // of what is not wall: a flat ring, a bored piece
	hoursAttended   = 0.35   // load, watch the first layer, clear
	failsPerHour    = 0.005  // chance a printing hour that the print fails
	hoursCollar     = 0.7    // print and fit a collar
	hoursPlainSeam  = 1.5    // glue, fill and sand a seam on plain wall
	hoursOnFlank    = 6.0    // a seam in the flank of a groove, where a piece runs out thin
	hoursAtCorner   = 0.8    // a seam where the slope changes
	hoursAtStep     = 0.4    // a seam hidden in a step
	overhangPerHour = 3000.0 // mm² of overhang supported and cleaned in an hour
	overhangWorth   = 400.0  // mm² of overhang that make turning a piece over worth while
)

// engage is how deep a spigot or half a collar reaches at a seam.
func engage(diameter unit.Length) unit.Length {
	depth := min(engageMost, max(engageLeast, engageShare*diameter))
	return unit.Length(int(depth + 0.5))
}
