// Package shape makes each part as if it were one piece that nothing joins: its
// outer profile and the cavity that leaves its wall.
//
// In: the design at full size. Out: polylines in the half plane, mm; arcs
// become chords within 0.01 mm. The cavity is the outer profile of the whole
// body moved in by the part's wall, measured square to the surface, and eased
// to 45° wherever it would be a ceiling in print, so that the inside needs no
// support (45° from the vertical prints unsupported: design rules of four printing
// services agree; see docs/printing.md).
package shape
