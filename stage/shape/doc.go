// Package shape makes each part as if it were one piece that nothing joins: its
// outer profile and the cavity that leaves its wall.
//
// In: the design at full size. Out: polylines in the half plane, mm; arcs
// become chords within 0.01 mm. The cavity is the outer profile of the whole
// body moved in by the part's wall, measured square to the surface, and eased
// to 45° wherever it would be a ceiling in print, so that the inside needs no
// support (45° from the vertical prints unsupported: design rules of four printing
// services agree; see docs/printing.md).
//
// A part turned round its own axis is shaped the same way on that axis, solid
// where it has no wall. A flat part is a prism and an imported one the solid of
// its file, mended and hollowed as need be; both come out as solids in the part's
// own frame ([model.Part.Frame]) with the line that divide cuts them along.
package shape
