// Package turning is the arithmetic of turned shapes: regions of the half plane
// of station and radius, their union, difference and intersection, the loops
// round them and the volume they sweep.
//
// A bore, a spigot, a socket or a chamfer of a turned piece is a region taken
// away or added before the profile is turned into a solid; no solid boolean is
// needed. Coordinates are plain float64 millimetres, kept on a grid of one
// millionth of a millimetre, so that edges which meet have equal ends and loops
// close by exact comparison.
package turning
