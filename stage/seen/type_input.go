package seen

import (
	"scalewright/model"
	"scalewright/unit"
)

// Input is what may be seen.
type Input struct {
	Finished []string // ids of parts that are finished
	Division model.Division
	Carved   []model.Carved         // of Division.Pieces
	Prints   []model.Print          // of Division.Pieces
	Layers   map[string]unit.Length // by printer
}

const (
	floorDeep  = 0.045   // mm, of the surface between the stairs; common practice, a guess until logged
	floorLayer = 0.2     // mm layer that the floor is of; it grows with the layer
	leastArea  = 100.0   // mm² that are worth a task
	handAway   = 0.001   // mm that a ray starts off its triangle
	patchLong  = 25.0    // mm: an edge of what is judged seen or not as a whole
	highShare  = 0.95    // of the area that a depth covers
	far        = 100_000 // mm: further than any build reaches
)
