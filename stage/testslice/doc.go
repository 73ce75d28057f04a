// Package testslice cuts the test slice of a joint: the last millimetres of both
// real sides, to be printed and put together before hours are spent on the
// pieces.
//
// In: the pieces as carved, how they lie in print, the seams and their fits, and
// the piece to print now. Out: the slice of that piece's first joint, counted
// from the datum; where nothing may be printed yet, of the joint that is most
// likely to need work. Each side is cut square to the axis, half as
// long as the joint engages but no less than 8 and no more than 15 mm: short enough
// to print in an hour or two, long enough to feel the fit (common practice). It has the end down that
// the whole piece has, so that it comes off the printer with the same errors.
// Lengths in mm. No finding: a build without sized joints has no slice.
package testslice
