// Package book writes everything that leaves the program: the report, the files
// to print from, the lists, the calendar and the build book.
//
// In: a [job.Result]. Out, through a [Writer] that knows folders and this
// package does not:
//
//	report.json          the result, every figure with its unit in its key
//	pieces/ID.stl, .3mf  each piece as it stands on its printer's platform
//	parts.csv            one line a print
//	calendar.ics         the plan (RFC 5545), in the local time of whoever reads it
//	book.pdf             verdict, general arrangement, a page a piece, calendar, notes
//
// Nothing is computed here that a stage could have said; sums are those of the
// verdict. The same result and options give the same bytes: the date is an
// option and never the clock.
//
// STL and 3MF hold the same solid, rounded to single precision, so that a
// reader that merges vertices by their coordinates gets it closed. Where that
// changed more than the last digit, a finding says so.
package book
