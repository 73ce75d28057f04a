// Package recipe remembers what stages made, runs work side by side, and holds
// the two feedback loops as mechanism. It knows no stage: the order of stages
// stands in package job.
//
// A [Key] is the SHA-256 of a stage's name, its version and its inputs ([Of]).
// What another stage made goes in as that stage's Key, never as the bytes of a
// mesh, so that a key costs microseconds and means "made in this way from
// these". [Do] looks a key up in memory, then on disk, and otherwise does the
// work, once for all who ask at the same time. What was cancelled or failed is
// never kept. [Memo.Counts] says how often each stage really worked.
//
// [Each] fans out over a slice and joins results in input order. [Meter] hands
// progress on, never backwards. [Settle] runs decisions and judges until what
// was assumed covers what was observed; [Derive] derives one build at several
// ratios.
//
// A panic inside work is a bug of ours. It is caught once, where it happened,
// and goes on as a [Bug]: an error with the stage's name and the stack.
//
// Values are shared: whoever is handed a remembered value may read it, never
// write to it.
package recipe
