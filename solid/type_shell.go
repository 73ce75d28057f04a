package solid

// ShellOptions say how [Kernel.Shell] hollows a solid.
type ShellOptions struct {
	// Wall is the least distance from the cavity to the outside, everywhere.
	Wall float64
	// Cell is how finely the cavity is shaped, at most half the wall; 0: a third of
	// it. Time and triangles go with the area over the square of the cell.
	Cell float64
}

// ShellReport says what came of it.
type ShellReport struct {
	Cavities int // how many were made; 0: the solid is too thin everywhere
	// Filled is how many of less than one cell were left out.
	Filled        int
	Before, After float64 // volumes
	// Thinnest is the least distance between any point of the cavity's surface and
	// the outside, and At where that is; it is never less than Wall. Thickest is the
	// greatest distance from a corner of the cavity to the outside. All are zero
	// where there is no cavity.
	Thinnest, Thickest float64
	At                 Vec
	Cell               float64 // as used
}
