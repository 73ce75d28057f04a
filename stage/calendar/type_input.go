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
	Core     *model.Core
	Printers []model.Printer
	People   []model.Person
	Done     []string // ids of tasks that the log says are done
}

// Kinds of task.
const (
	KindPrint = "print"
	KindSaw   = "saw"
	KindJoin  = "join"
)

// Task is one piece of work in the plan. Minutes count from Start, 00:00.
type Task struct {
	ID      string       `json:"id"`
	Kind    string       `json:"kind"`
	Name    string       `json:"name"`
	Piece   string       `json:"piece,omitempty"`
	Who     string       `json:"who,omitempty"`
	Printer string       `json:"printer,omitempty"`
	From    unit.Minutes `json:"from_min"`
	To      unit.Minutes `json:"to_min"` // hands off; cure and hold included
	Bench   unit.Minutes `json:"bench_min"`
	Steps   []Step       `json:"steps"`
}

// Steps of tasks.
const (
	StepLoad  = "load"
	StepRun   = "run"
	StepClear = "clear"
	StepSaw   = "saw"
	StepJoin  = "join"
	StepCure  = "cure"
)

// Step is one stretch of a task.
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
	Tasks  []Task       `json:"tasks"`  // by start
	Bench  unit.Minutes `json:"bench_min"`
	Print  unit.Minutes `json:"print_min"`
}

// Common practice, minutes, each a guess until logged.
const (
	loadMinutes  = 10
	clearMinutes = 10
	sawMinutes   = 25
	glueMinutes  = 30
	fitMinutes   = 15 // a joint that is not glued
)

// A plan reaches so far: two years, past which nobody plans evenings.
const horizonWeeks = 104
