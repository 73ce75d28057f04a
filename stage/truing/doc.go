// Package truing makes straight what was measured crooked, where the maker says so,
// and says what the measurements would bear.
//
// In: the trace of the reference, the ratio, and what is declared: lines held
// parallel to the axis, freed of a moulding's draft, of one diameter or of a diameter
// said, faces square, arcs tangent, ends alike, soft edges crisp. Out: the outline so
// trued beside the outline as measured, what each segment moved at full size, and
// what may be true though nobody declared it. Nothing is trued that is not declared.
//
// What a truth takes is tested with the doubt of what was measured: each line's
// radius and slope are weighted least squares over the profile, and the causes that
// all stations share go through the same sums, so that two diameters in one
// photograph are told apart to less than either is known. A truth is proposed where
// it is kept at the level 0.05 (chi-squared), and where the measurements are sharp
// enough that keeping it by chance would be rare: a line of a slope unknown to 5° is
// not "parallel".
//
// A value looks like a round one where the round one lies within two doubts and is
// twenty times likelier than any value between its neighbours ("strong": Kass &
// Raftery, Bayes Factors, J. Am. Stat. Assoc. 90 (1995) 773-795): with g the step of
// the round values and d how far off the nearest lies, g/(u·√2π)·exp(-d²/2u²) ≥ 20.
//
// A soft edge is an arc or a chamfer smaller than the shop's limit between two longer
// segments. Enlarged it would be a blob, so it becomes the corner that it was meant to
// be, or the edge that the shop gives a corner, whose size is of the shop: that is why
// this stage sees the ratio.
//
// Lengths are mm of the reference but where full size is said.
package truing
