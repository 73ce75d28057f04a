package finding

import (
	"fmt"
	"io"

	"scalewright/unit"
)

// Position is a place in a text as an editor counts it, from 1.
type Position struct {
	File         string
	Line, Column int
}

// String is file:line:column, or what is known of it.
func (p Position) String() string {
	switch {
	case p.Line > 0:
		return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
	case p.File != "":
		return p.File
	}
	return "build"
}

// Writer renders findings in the reader's units and language. Locate turns
// places into positions; nil leaves them as file and path.
type Writer struct {
	System   unit.System
	Language string // a folder under text/; empty or unknown: English
	Locate   func(Place) Position
}

func (w Writer) entry(code Code) *Entry { return inLanguage(load(), w.Language, code) }

// Message is the sentence: what, where, how much.
func (w Writer) Message(f Finding) string { return w.fill(w.entry(f.Code).Says, f) }

// Remedy is what to do; empty when there is nothing to do.
func (w Writer) Remedy(f Finding) string { return w.fill(w.entry(f.Code).Do, f) }

// Position is the line and column of a place.
func (w Writer) Position(at Place) Position {
	if w.Locate == nil {
		return Position{File: at.File}
	}
	return w.Locate(at)
}

// Print writes a finding as a compiler writes a diagnostic.
func (w Writer) Print(out io.Writer, f Finding) {
	fmt.Fprintf(out, "%s: %s %s: %s\n", w.Position(f.At), f.Severity, f.Code, w.Message(f))
	if remedy := w.Remedy(f); remedy != "" {
		fmt.Fprintf(out, "    do: %s\n", remedy)
	}
	for _, also := range f.Notes {
		text := w.fill(w.entry(also.Code).Says, Finding{Part: f.Part, Station: f.Station, Args: also.Args})
		fmt.Fprintf(out, "    %s: note: %s\n", w.Position(also.At), text)
	}
}

func (w Writer) fill(text string, f Finding) string {
	return slot.ReplaceAllStringFunc(text, func(m string) string {
		switch name := m[1 : len(m)-1]; name {
		case "part":
			return f.Part
		case "station":
			return w.System.Whole(f.Station)
		default:
			return f.Args[name].write(w.System)
		}
	})
}
