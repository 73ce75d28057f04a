// Package facts reads the log: what is made, what the readings say of each
// printer, and what is done.
//
// In: the events of the log in their order and the shop as declared. Out: made
// pieces, the shop with its calibrations brought up to date, the core's width
// where it was measured, minutes that prints and bench work took, and tasks that are done. An
// empty log leaves everything as declared.
//
// A printer's offset is the declared one weighed with the mean of its readings
// (asked and came), each by the inverse square of its doubt; the doubt of the
// mean of n readings is their scatter over √n (JCGM 100:2008, 4.2.3), and never
// less than a caliper's.
package facts
