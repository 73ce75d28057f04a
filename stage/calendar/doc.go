// Package calendar says who and what does which task when, and how sure the end
// is.
//
// In: pieces with their printing minutes, all bench tasks of the other stages,
// printers, people with weekly hours, what the log says is done and how long it
// took, the day work starts, a seed. Out: tasks with their start and end in
// minutes from that day, 00:00, the day the last one ends, and the days by which
// half and nine tenths of sampled plans end. A print is loaded by a person, runs
// at any hour and keeps its printer until a person clears it; glue cures and paint
// dries at any hour and takes nobody, paint in the spraying place.
//
// The plan is built by sched and is feasible, never called best. Minutes for
// loading and clearing, spreads and failures are common practice, a guess until
// logged; docs/calendar.md has the model of doubt and its sources.
package calendar
