// Package printing judges whether a piece can be printed and what it takes.
//
// In: a carved piece, its printer and filament. Out: its placement on the
// platform (what is not turned, at the angle at which it fits), minutes, grams, layers and overhanging area. The piece is sectioned
// at the middle of every layer and each section is laid by craft/extrusion.
// Findings: it does not lie inside the build volume; a wall is thinner than two
// lines; it hangs over further than 45° from the vertical. Sources of the limits
// are in docs/printing.md.
package printing
