package model

import (
	"scalewright/stock"
	"scalewright/unit"
)

// Tab is where a flat guest's root goes through a slot in its host's wall. Its
// fit bears its id as seam.
type Tab struct {
	ID       string
	Mount    string
	Guest    PieceID
	Host     PieceID
	Span     Span        // stations on the build's axis
	Clocking float64     // rad
	Thick    unit.Length // of the guest
	Tip      unit.Length // radius at which the tongue ends inside
	Top      unit.Length // radius that it surely joins the guest at
}

// Window is an opening in the piece that it lies in, and the panel that closes it;
// the zero id where it stays open. The panel's fit bears the opening's id as
// seam.
type Window struct {
	Opening Opening
	Piece   PieceID
	Panel   PieceID
	Radius  unit.Length // of the outside, at its middle
	// Of a panel: its four screws, and the radii at which the faces of their heads
	// lie, under the outside all round: of the two nearer the foot, and of the others.
	Screw stock.Fastener
	Long  unit.Length
	Heads [2]unit.Length
}

// What a panel rests on: a ledge of the wall's thickness that runs so far under
// its rim, held by screws in the middle of the ledge. Common practice.
const LedgeWide = 9 * unit.Millimetre

// PanelScrews is how many screws a panel has: one a corner.
const PanelScrews = 4
