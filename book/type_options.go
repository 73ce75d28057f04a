package book

import (
	"io"
	"time"

	"scalewright/drawing"
	"scalewright/finding"
	"scalewright/unit"
)

// Writer takes the files by their names, which use slashes and may lie in a
// folder. Each file is closed before the next is created.
type Writer interface {
	Create(name string) (io.WriteCloser, error)
}

// Options say how a result is written.
type Options struct {
	System unit.System
	// Date is the day of the build; nothing here asks the clock.
	Date time.Time
	// Paper is what the book is printed on; empty is PaperA3.
	Paper Paper
	// Locate gives the line and column of a finding's place; nil leaves it
	// with its file.
	Locate func(finding.Place) finding.Position
}

// Paper names the paper of the book: the general arrangement on the larger
// sheet where there are two.
type Paper string

// The papers: ISO 216 A3 with A4, or A4 alone; ANSI Y14.1 B (tabloid) with A
// (letter), or letter alone.
const (
	PaperA3      Paper = "a3"
	PaperA4      Paper = "a4"
	PaperTabloid Paper = "tabloid"
	PaperLetter  Paper = "letter"
)

// large is the sheet of the general arrangement.
func (p Paper) large() drawing.Format {
	switch p {
	case PaperA4:
		return drawing.A4Landscape
	case PaperTabloid:
		return drawing.Format{Width: 431.8, Height: 279.4}
	case PaperLetter:
		return drawing.Format{Width: 279.4, Height: 215.9, OneSided: true}
	}
	return drawing.A3Landscape
}

// small is the sheet of every other page.
func (p Paper) small() drawing.Format {
	if p == PaperTabloid || p == PaperLetter {
		return drawing.Format{Width: 215.9, Height: 279.4, OneSided: true}
	}
	return drawing.A4Portrait
}

func (o Options) findings() finding.Writer {
	return finding.Writer{System: o.System, Locate: o.Locate}
}
