package build

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"scalewright/finding"
	"scalewright/unit"
)

// Unreadable is the error of a build that cannot be read or understood. All its
// mistakes are in Findings, sorted by file and place, each once.
type Unreadable struct {
	Findings finding.List
	docs     documents
}

// documents are the texts of a folder by file name.
type documents map[string]*document

func unreadable(found finding.List, docs documents) *Unreadable {
	return &Unreadable{docs.sorted(found), docs}
}

// sorted by file as they are read, then by place in it.
func (docs documents) sorted(found finding.List) finding.List {
	out := slices.Clone(found)
	rank := func(file string) int {
		if i := slices.Index([]string{BuildFile, ShopFile}, file); i >= 0 {
			return i
		}
		return 2
	}
	slices.SortStableFunc(out, func(a, b finding.Finding) int {
		p, q := docs.Locate(a.At), docs.Locate(b.At)
		return cmp.Or(
			cmp.Compare(rank(a.At.File), rank(b.At.File)), cmp.Compare(a.At.File, b.At.File),
			cmp.Compare(p.Line, q.Line), cmp.Compare(p.Column, q.Column), cmp.Compare(a.Code, b.Code),
		)
	})
	return out
}

// Locate is the line and column of a place: of the key, of the nearest key
// above it, or of the file.
func (docs documents) Locate(at finding.Place) finding.Position {
	doc := docs[at.File]
	if doc == nil {
		return finding.Position{File: at.File}
	}
	return doc.locate(at.Path)
}

// Error is the first mistake, and how many more there are.
func (u *Unreadable) Error() string {
	if len(u.Findings) == 0 {
		return "the build cannot be read"
	}
	w := finding.Writer{Locate: u.Locate}
	first := u.Findings[0]
	text := fmt.Sprintf("%s: %s", w.Position(first.At), w.Message(first))
	if more := len(u.Findings) - 1; more > 0 {
		text += fmt.Sprintf(" (and %d more)", more)
	}
	return text
}

// Locate is the line and column of a place.
func (u *Unreadable) Locate(at finding.Place) finding.Position { return u.docs.Locate(at) }

// Print writes every mistake as a compiler does, lengths in the reader's units.
func (u *Unreadable) Print(out io.Writer, system unit.System) error {
	var b strings.Builder
	w := finding.Writer{System: system, Locate: u.Locate}
	for _, f := range u.Findings {
		w.Print(&b, f)
	}
	_, err := io.WriteString(out, b.String())
	return err
}
