// Package joinery makes the plain bodies that joints are cut with, in the build's
// frame: slots and tongues in the plane of a clocking, wedges of a wall, holes
// square to it. Lengths in mm, clockings in radians anticlockwise seen from the
// far end.
package joinery
