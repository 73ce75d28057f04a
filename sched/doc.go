// Package sched plans tasks on resources that keep hours.
//
// In goes a [Problem]: tasks with one or more modes, each mode a sequence of
// phases, resources with a capacity and a [Calendar] or with a stock, and lags
// between tasks. Out comes a [Plan]: for each task its mode and, for each
// phase, when it starts, when it ends and the stretches in which it is worked.
// Times are whole minutes after an origin the caller chooses; the package
// knows no clock and no time zone.
//
// The doors, from cheap to dear:
//
//   - [Problem.Validate] refuses what cannot be read as a problem;
//   - [LowerBound] says before which minute no plan can end, or why none exists;
//   - [Serial] builds one plan by a priority [Rule], [DecodeList] by a given
//     order, [BestSerial] the shortest plan over all rules;
//   - [Check] judges any plan from the definitions below and shares no code with
//     the solver.
//
// # Definitions
//
// A phase needs Minutes of work. The calendars of all renewable resources it
// demands are intersected; "open" below means open in that intersection.
//
//   - Unbroken: the phase is worked in one stretch, all of it open.
//   - Splittable: it is worked in every open minute from its start to its end
//     and pauses only where closed. It starts and ends in open time.
//   - Elapsed: it runs on at any hour; calendars are ignored (cure, dry).
//
// A demand takes its units while the phase is worked. With Keep they stay taken
// over the pauses and on until the task's next phase starts, open or not: a
// printer between the end of a print and its clearing. A resource's use never
// exceeds its capacity at any minute. A demand for a consumable draws its units
// from the stock once.
//
// Phases of a task follow each other; the wait before a phase is at most MaxWait
// where given. A task starts with its first phase and finishes with its last.
// A lag holds Min <= to - from <= Max in clock minutes, "from" and "to" being
// the starts or finishes its kind names; it binds only in the modes it lists.
// Every task starts at or after 0 and its Release and finishes by its Deadline
// and the problem's Horizon. The makespan is the latest finish.
//
// # Limits
//
// Limits count placements, not seconds: the same problem gives the same plan on
// every machine and any number of cores.
package sched
