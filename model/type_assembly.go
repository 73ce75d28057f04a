package model

import (
	"slices"

	"scalewright/unit"
)

// Side is where a thing comes from when it goes to its place.
type Side string

// Sides that things come from.
const (
	FromFoot Side = "from the foot" // along the axis, away from the datum
	FromNose Side = "from the nose" // along the axis, towards the datum
	FromSide Side = "from the side" // square to the axis
)

// AssemblyStep is one act of putting the build together, and what must be right
// before it because nobody gets at it afterwards.
type AssemblyStep struct {
	Task    Task
	Joint   string // seam or mount that it closes; empty: none
	Pieces  []PieceID
	Station unit.Length
	Side    Side     // that the later thing comes from; empty: no way to speak of
	Shuts   []string // components that nobody reaches past this step
	Through []string // wires that must hang through the joint before it closes
}

// Assembly is the order in which everything goes together.
type Assembly struct {
	Steps  []AssemblyStep
	Groups []Group
}

// Tasks are the tasks of the steps, in their order.
func (a Assembly) Tasks() []Task {
	var out []Task
	for _, s := range a.Steps {
		out = append(out, s.Task)
	}
	return out
}

// GroupOf is the group that a piece is glued into; false when there is none.
func (a Assembly) GroupOf(piece PieceID) (Group, bool) {
	for _, g := range a.Groups {
		if slices.Contains(g.Pieces, piece) {
			return g, true
		}
	}
	return Group{}, false
}
