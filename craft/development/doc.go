// Package development unrolls surfaces into flat paper: the formulae of sheet-metal
// pattern drafting.
//
// A cylinder and a cone unroll without stretching (they are developable: one of
// their two curvatures is nought; do Carmo, "Differential Geometry of Curves and
// Surfaces", 3.3); a place at a turn θ and a station z then lies at
//
//	cylinder   x = θ·r, y = z
//	cone       at the distance ρ = r/sin a from the apex, in the direction θ·sin a
//
// where a is half the cone's angle, so that the sector of a frustum has the angle
// 2π·(R - r)/s, s its slant height. Paper bends about the middle of its thickness t:
// laid round a surface it is unrolled at t/2 outside it (x = θ·(r + t/2), once round
// π(D + t)), laid inside one at t/2 within.
//
// Any other body of revolution does not unroll. A short stretch is taken for the
// cone through its ends, and [Straying] says how far it is from it; a long one is
// covered by gores, see [Gores].
//
// Lengths are mm, angles radians. On the flat paper x grows with the turn and y
// with the station.
package development
