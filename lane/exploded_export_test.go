package lane

import (
	"scalewright/job"
	"scalewright/solid"
)

// PulledApart is how far each piece is moved where the build is pulled apart.
func PulledApart(r job.Result) []solid.Vec { return pulledApart(r, aslantTurn).by }
