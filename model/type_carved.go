package model

import (
	"scalewright/solid"
	"scalewright/unit"
)

// Carved is a piece as a solid, in its place in the build: of a turned piece
// the loops of its half plane, mm at full size on its own axis, and the solid.
type Carved struct {
	Piece    PieceID
	Loops    [][]Point   // outer anticlockwise, holes clockwise, radius to the right
	Reach    Span        // stations it fills on its own line, spigot included
	Diameter unit.Length // of a turned piece
	Wall     unit.Length // thinnest place; 0: of a solid piece that is not turned nobody measured it
	WallAt   Point
	Volume   float64 // of the solid, mm³
	Solid    solid.Mesh
}

// Print is what printing finds out about a piece.
type Print struct {
	Piece     PieceID
	Printer   string
	Placement solid.Transform // from its place in the build onto the platform
	Box       [3]unit.Length  // size as it stands on the platform
	Minutes   unit.Minutes
	Grams     unit.Mass
	Layers    int
	Overhang  float64 // area that needs support, mm²
	Logged    bool    // the minutes come from the log, not from an estimate
}
