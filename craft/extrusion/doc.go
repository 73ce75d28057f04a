// Package extrusion is how long a printer takes over a layer and how much
// filament it lays.
//
// A layer of area A and perimeter P, laid with lines of width w and height h, is
// first walls (so many lines along the perimeter), then infill. Volume laid is
// area times height, infill thinned by its density. Time is volume over the rate
// that the hot end can melt or the head can follow, whichever is less, and for
// each line the time lost in corners. Lengths mm, times s, volumes mm³.
//
// Volumetric flow is layer height times line width times speed (rectangle
// model): the identity that nozzle-flow guides use, e.g. 10 mm³/s at 0.2 x 0.4
// is 125 mm/s.
package extrusion
