package calendar

import (
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Input is what the calendar depends on.
type Input struct {
	Start    string // date, 2006-01-02
	Ready    string // fixed date; empty: none
	At       finding.Place
	Division model.Division
	Prints   []model.Print // of Division.Pieces, in their order
	Tasks    []model.Task  // all bench work, whoever asks for it
	Printers []model.Printer
	People   []model.Person
	Done     []string                // ids of tasks that the log says are done
	Took     map[string]unit.Minutes // hands on tasks, as logged, by id
	Seed     uint64
	Samples  int // plans that the doubt is drawn from; 0: usualSamples
}

// KindPrint is the kind of a print; those of bench work are model.TaskKind's.
const KindPrint = "print"

// Task is one piece of work in the plan. Minutes count from Start, 00:00.
type Task struct {
	ID       string       `json:"id"`
	Kind     string       `json:"kind"`
	Name     string       `json:"name"`
	Piece    string       `json:"piece,omitempty"`
	Who      string       `json:"who,omitempty"`
	Printer  string       `json:"printer,omitempty"`
	From     unit.Minutes `json:"from_min"`
	To       unit.Minutes `json:"to_min"` // hands off; cure and hold included
	Bench    unit.Minutes `json:"bench_min"`
	Critical float64      `json:"critical"` // share of the sampled plans whose end hangs on it
	Steps    []Step       `json:"steps"`
}

// Steps of tasks; hands on bench work are called as its kind.
const (
	StepLoad  = "load"
	StepRun   = "run"
	StepClear = "clear"
	StepCure  = "cure"
)

// Step is one stretch of a task. Work that pauses over night is one step an
// evening.
type Step struct {
	Name string       `json:"name"`
	From unit.Minutes `json:"from_min"`
	To   unit.Minutes `json:"to_min"`
}

// ByItself reports whether the step takes nobody.
func (s Step) ByItself() bool { return s.Name == StepRun || s.Name == StepCure }

// Result is the plan.
type Result struct {
	Start  string       `json:"start"`
	Finish string       `json:"finish"` // date on which the last task ends
	Likely string       `json:"likely"` // date by which half of the sampled plans end; empty: no plan
	Safe   string       `json:"safe"`   // date by which nine in ten end
	Tasks  []Task       `json:"tasks"`  // by start
	Bench  unit.Minutes `json:"bench_min"`
	Print  unit.Minutes `json:"print_min"`
}

// Common practice, minutes, each a guess until logged.
const (
	loadMinutes  = 10
	clearMinutes = 10
)

// A plan reaches so far: two years, past which nobody plans evenings.
const horizonWeeks = 104

// latestYear is the last that a date in a calendar file can have (RFC 5545,
// 3.3.4: four digits of year).
const latestYear = 9999
