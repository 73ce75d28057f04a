// Package calendar says who and what does which task when.
//
// In: pieces with their printing minutes, seams, core, printers, people with
// weekly hours, what the log says is done, and the day work starts. Out: tasks
// with their start and end in minutes from that day, 00:00, and the day the last
// one ends. A print is loaded by a person, runs at any hour and keeps its
// printer until a person clears it; glue cures at any hour and takes nobody.
//
// The plan is built by sched and is feasible, never called best. Minutes for
// loading, clearing, sawing and gluing are common practice, a guess until
// logged; cure times are the glue table's.
package calendar
