// Package model holds the nouns of the trade: what a maker declares, what it
// becomes at full size, what it is divided into.
//
// The path of the data: a [Declared] build (dimensions as written, of the
// reference or of the shop) and a [Trace] of the reference (an outline in
// millimetres of the reference, with its doubt) become, by [Resolve] and the
// enlargement, a [Design]. From there on every length is full size and nothing
// sees a ratio. Stages divide a design into [Piece] values that meet at [Seam]
// values.
//
// Data and small methods only; the work is in stage/.
//
// Frame: station 0 is the datum end, the axis is +Z away from it; clocking 0
// is +X, positive anticlockwise seen from the far end; right-handed.
package model
