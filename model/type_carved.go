package model

import (
	"scalewright/solid"
	"scalewright/unit"
)

// Carved is a piece as a solid, in its place in the build: the loops of its
// half plane, mm at full size, and the solid they turn into.
type Carved struct {
	Piece    PieceID
	Loops    [][]Point // outer anticlockwise, holes clockwise, radius to the right
	Reach    Span      // stations it fills, spigot included
	Diameter unit.Length
	Wall     unit.Length // thinnest place
	WallAt   Point
	Volume   float64 // of the solid, mm³
	Solid    solid.Mesh
}

// Print is what printing finds out about a piece.
type Print struct {
	Piece   PieceID
	Printer string
	Minutes unit.Minutes
	Grams   unit.Mass
	Layers  int
	Support float64 // overhanging area, mm²
	Logged  bool    // the minutes come from the log, not from an estimate
}
