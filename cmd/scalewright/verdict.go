package main

import (
	"fmt"
	"strings"

	"scalewright/book"
	"scalewright/finding"
	"scalewright/job"
)

// Lines of talk are no longer than this many letters.
const lineLetters = 84

// verdict prints the answer before all others, in the book's words.
func (f *face) verdict(r job.Result) {
	say := book.Say(r, f.system)
	fmt.Fprintln(f.out, r.Name)
	if r.Invented != "" {
		fmt.Fprintf(f.out, "(invented: %s)\n", r.Invented)
	}
	fmt.Fprintln(f.out, say.Heading)
	f.wrapped("  ", say.Words())
	fmt.Fprintln(f.out, "  Hours are estimates, bench hours and how far they slip a guess until you log.")
	w := finding.Writer{System: f.system}
	switch n := len(r.Verdict.Worst); {
	case n > 0 && r.Verdict.Worst[0].Severity > finding.Note:
		fmt.Fprintln(f.out, "To know first:")
	case n > 0:
		fmt.Fprintln(f.out, "What may go wrong:")
	}
	for _, worst := range r.Verdict.Worst {
		f.wrapped("  ", said(worst)+w.Message(worst))
		if remedy := w.Remedy(worst); remedy != "" {
			f.wrapped("    ", "do: "+remedy)
		}
	}
	if say.Now != "" {
		fmt.Fprintf(f.out, "Print this one tonight: %s\n", say.Now)
	}
	f.wrapped("  ", say.Because)
	if say.Try != "" {
		f.wrapped("", "Try this first: "+say.Try)
	}
}

// said is a finding's grade before its words; what may only go wrong has none.
func said(f finding.Finding) string {
	if f.Severity == finding.Note {
		return ""
	}
	return f.Severity.String() + ": "
}

// wrapped prints a paragraph, each line indented.
func (f *face) wrapped(indent, text string) {
	line := indent
	for word := range strings.FieldsSeq(text) {
		if len(line) > len(indent) && len(line)+1+len(word) > lineLetters {
			fmt.Fprintln(f.out, line)
			line = indent
		}
		if len(line) > len(indent) {
			line += " "
		}
		line += word
	}
	fmt.Fprintln(f.out, line)
}
