// Package readings joins what a caliper says of the reference with what the
// photograph says.
//
// In: the trace (outline, profile and length, each value with its doubt and the
// causes that it shares with others) and the readings: diameters at a station,
// lengths between two faces. Out: the trace as both together have it, what each
// reading says beside what all else says, and the reading that would help most next.
//
// The unknowns are few: how far each shared cause is off (the camera, the height and
// the slope of the axis, whatever the trace names), how far each segment of the
// outline lies off by itself, and how far each face does. Each is one standard
// deviation wide before a reading is taken, and every radius and station is a sum of
// them: so one diameter moves every radius that shares its error. A reading is one
// more observation; the estimate is that of weighted least squares with what is known
// beforehand (Aitken, Proc. R. Soc. Edinburgh 55 (1935) 42-48; in the notation of
// JCGM 102:2011, annexes C and D): with H the effects on the readings, R their own
// variances and d what they lie off,
//
//	S = H·Hᵀ + R,  x = Hᵀ·S⁻¹·d,  cov(x) = I - Hᵀ·S⁻¹·H
//
// The symmetric root of that covariance keeps each cause under its own name.
//
// A reading that does not belong is found by what it lies off from all else, over
// the doubt of that (Baarda, A Testing Procedure for Use in Geodetic Networks,
// Netherlands Geodetic Commission 2/5 (1968)): the worst is taken out first, then all
// are tested again. Where two explain the trouble about equally well, both are named.
// Where readings agree with each other and not with the photograph, it is the
// photograph's scale that is off. What may have been typed wrongly is tried: digits
// swapped, the point moved, inches, a radius for a diameter.
//
// Lengths are mm of the reference.
package readings
