package model

import "scalewright/unit"

// TaskKind says what kind of bench work a task is.
type TaskKind string

// Kinds of bench work besides printing.
const (
	Saw    TaskKind = "saw"
	Join   TaskKind = "join"
	Sand   TaskKind = "sand"
	Fill   TaskKind = "fill"
	Prime  TaskKind = "prime"
	Paint  TaskKind = "paint"
	Solder TaskKind = "solder"
	Put    TaskKind = "put"  // a component into its bay
	Draw   TaskKind = "draw" // a wire along its way
	Try    TaskKind = "try"
	Raise  TaskKind = "raise" // onto the stand
)

// Task is one piece of bench work that a plan must place: who it waits for, how
// long hands are on it, how long it then takes nobody.
type Task struct {
	ID    string
	Kind  TaskKind
	Name  string
	Piece string   // it concerns; empty: several
	After []string // tasks that must be over, cure included; unknown ones are over
	Bench unit.Minutes
	Cure  unit.Minutes
	Spray bool // holds the spraying place, cure included
	Guess bool // the minutes are nobody's measurement
}

// PrintTask is the id of the task that prints a piece.
func PrintTask(piece PieceID) string { return "print." + piece.String() }

// PrepTask is the id of the last task on a piece before it is joined.
func PrepTask(piece PieceID) string { return "prep." + piece.String() }

// JoinTask is the id of the task that joins a seam or a mount.
func JoinTask(seam string) string { return "join." + seam }

// SeatTask is the id of the task that fixes a collar or core ring in its host.
func SeatTask(piece PieceID) string { return "seat." + piece.String() }

// SlideTask is the id of the task that glues a piece to the core.
func SlideTask(piece PieceID) string { return "slide." + piece.String() }

// PutTask is the id of the task that puts a component into its bay.
func PutTask(component string) string { return "put." + component }

// DrawTask is the id of the task that draws a wire and connects its first end.
func DrawTask(wire string) string { return "draw." + wire }

// SolderTask is the id of the task that connects a wire's other end.
func SolderTask(wire string) string { return "solder." + wire }

// FitTask is the id of the task that fits what comes off again: a panel.
func FitTask(opening string) string { return "fit." + opening }

// Tasks that there is one of.
const (
	SawCore   = "saw.core"
	FitCore   = "core.in"
	RaiseTask = "raise.stand"
	TryTask   = "try.all"
)

// FinishTask is the id of the last coat on a group of pieces glued together.
func FinishTask(group string) string { return "finish." + group }

// Group is what is glued together and handled as one thing: its pieces, in the
// order of the division, and the seams and mounts inside it. It is named for its
// first piece's part.
type Group struct {
	ID     string
	Pieces []PieceID
	Seams  []string
}
