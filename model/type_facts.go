package model

import (
	"scalewright/finding"
	"scalewright/unit"
)

// EventKind says what the log records.
type EventKind string

// Kinds of event.
const (
	Released EventKind = "released"
	Started  EventKind = "started"
	Printed  EventKind = "printed"
	Failed   EventKind = "failed"
	Measured EventKind = "measured"
	Done     EventKind = "done"
	Spent    EventKind = "spent"
	Photo    EventKind = "photo"
	Remark   EventKind = "note"
	// Withdrawn takes an earlier event back; a release cannot be.
	Withdrawn EventKind = "withdrawn"
)

// Event is one line of the log: what happened, to which piece, when.
type Event struct {
	Number   int
	Kind     EventKind
	Time     string // RFC 3339
	Piece    string // a piece's id, where it concerns one
	Label    string // given at release
	Task     string // done: which bench work
	Printer  string
	Revision int          // of build.yaml, at release
	Minutes  unit.Minutes // how long it took, where said
	Grams    unit.Mass
	What     string  // measured: "outer", "bore"
	Asked    float64 // measured: diameter asked for, mm
	Came     float64 // measured: diameter that came out, mm
	Money    float64
	Text     string
	Of       int // withdrawn: the number of the event taken back
	At       finding.Place
}

// Made is a released piece: a fact that later edits bend around.
type Made struct {
	Piece    string
	Label    string
	Revision int
	Printed  bool
	Failures int
}
