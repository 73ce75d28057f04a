// Package platform lays shapes on a printer's platform: the convex hull of what
// lies on it, the angle at which a hull fits a rectangle, and the
// direction in which it is longest. Lengths are plain float64 millimetres, angles radians.
package platform
