// Package redraw moves the lines and arcs of an outline and makes its corners
// again.
//
// A segment lies on a [Carrier]: a straight line or a circle without ends. Whoever
// moves the carriers of an outline (a reading that makes a body wider, a line that
// is made parallel to the axis) hands them to [Join], which puts each corner where
// neighbours cross; where they do not, a step stands between them. The first and
// the last station stay. [Apart] says how far two outlines lie from one another at
// most, and where.
//
// Lengths are mm of whichever outline is given.
package redraw
