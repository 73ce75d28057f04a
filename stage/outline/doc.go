// Package outline takes the outline of a reference that somebody typed, or
// accepted from an earlier measuring, as the trace.
//
// In: the path in mm of the reference and the doubt of its radii. Out: the trace
// with its profile at most 1 mm apart, every radius with that doubt. An outline
// that crosses itself, runs back or dips below the axis cannot be turned and is
// a blocker.
package outline
