// Package enlarge sets the ratio between the reference and the piece.
//
// In: the declaration (a ratio, or the overall length wanted) and the trace of
// the reference, mm of the reference. Out: the ratio, and the overall length
// and largest doubt it gives at full size. A caliper reading of the length that
// disagrees with the photograph by more than three doubts is a finding: the
// doubts add in squares (JCGM 100:2008, 5.1.2).
package enlarge
