// Package mend compares what is made with what the build now asks for.
//
// In: what made/ keeps of each released piece, the division, the fits and the
// carved pieces. Out: findings alone. A made piece stays as it is: fit has sized
// its open neighbours to it, and what that cannot cure is said here: a piece whose
// cuts moved, two made pieces that an edit or a new calibration leaves too tight or
// too loose, files in made/ that are gone or changed. Lengths in mm on the
// diameter.
package mend
