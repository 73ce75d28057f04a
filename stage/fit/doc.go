// Package fit decides the sizes of both sides of every joint, and says how
// likely they are to bind or to be loose.
//
// In: seams and seats with the raw parts, the core, and the printers with how
// far their pieces come out from what was asked. Out, in the order of seams and
// seats along the axis: the diameters to print, the clearance that comes out
// with its sources, the lip between outer faces, and the chance that the whole
// stack goes together unsanded. All diameters in mm.
//
// A bore is printed so that the mean clearance is the least wanted plus two
// standard uncertainties of the clearance (worst case for one-off work: bias
// adds, doubt adds in squares; JCGM 100:2008, 5.2). A printer's offset is one
// variable wherever the printer is used, so that one bad calibration spoils
// joints together, not one by one. The core's diameter is taken at its widest,
// mean plus half the out-of-roundness, since a core ring is stiff. A printer that
// nobody measured prints to IT13 (craft/tolerance). Findings: the core has no way,
// a ring or a spigot would be too thin, a printer was not measured.
package fit
