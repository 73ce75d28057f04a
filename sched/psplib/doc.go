// Package psplib reads the text formats in which scheduling benchmarks are
// published into a [sched.Problem].
//
// [ReadSM] reads the project scheduling library's single-mode and multi-mode
// files (.sm, .mm; Kolisch & Sprecher, "PSPLIB – a project scheduling problem
// library", European Journal of Operational Research 96, 1996), [ReadSCH] the
// ProGen/max files with minimum and maximum lags (.sch; Schwindt 1998) and
// [ReadJobShop] the usual job shop text (jobs and machines, then "machine
// duration" pairs, machines from 0).
//
// Periods become minutes. Dummy start and end activities are kept, so that task
// numbers are those of the file less one. Errors name what was expected and
// where.
package psplib
