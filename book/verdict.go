package book

import (
	"fmt"
	"strings"

	"scalewright/drawing"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/unit"
)

// Verdict is the answer in plain sentences, as the book's first page and the
// program's last words say it.
type Verdict struct {
	Heading string
	Says    []drawing.Span // one paragraph, its figures bold
	Now     string         // the piece to print now; empty: none yet
	Because string         // why that one, or why none
	Try     string         // the test slice to try first; empty: no joint has sizes
}

// Words are the paragraph without its faces.
func (v Verdict) Words() string {
	var b strings.Builder
	for _, s := range v.Says {
		b.WriteString(s.Text)
	}
	return b.String()
}

// Say puts the verdict of a result into words.
func Say(r job.Result, u unit.System) Verdict {
	v := r.Verdict
	out := Verdict{Heading: heading(r, u)}
	if v.Prints == 0 {
		out.Says = []drawing.Span{plain("Nothing is divided into pieces yet, so there is nothing to count. What stands in the way is said below.")}
		out.Because = "There are no pieces yet."
		return out
	}
	spools := "no spool to buy"
	if v.Spools > 0 {
		spools = count(v.Spools, "spool", "spools") + " to buy"
	}
	out.Says = []drawing.Span{
		bold(fmt.Sprintf("%d prints", v.Prints)), plain(" on " + printers(v, r) + ", "),
		bold(spools), plain(", "), bold(hours(v.PrintHours) + " printing hours"), plain(", "),
		bold(hours(v.BenchHours) + " bench hours"), plain(", "),
	}
	out.Says = append(out.Says, moneyWords(v)...)
	out.Says = append(out.Says, whenWords(v)...)
	if len(r.Fits.Fits) > 0 {
		out.Says = append(out.Says, plain("The whole stack goes together unsanded "), bold(times(v.Together)), plain(". "))
	}
	out.Says = append(out.Says, errorWords(r, u)...)
	out.Now, out.Because = now(r)
	out.Try = sliceWords(r, u)
	return out
}

// moneyWords say how much and what for; nothing is bought where all is on hand.
func moneyWords(v job.Verdict) []drawing.Span {
	if len(v.MoneyFor) == 0 {
		return []drawing.Span{plain("nothing to pay. ")}
	}
	var what []string
	for _, s := range v.MoneyFor {
		what = append(what, s.For)
	}
	return []drawing.Span{plain("about "), bold(money(v.Money, v.Currency)), plain(" for " + string(finding.Names(what...)) + ". ")}
}

// whenWords say by when it is done, and how sure that is.
func whenWords(v job.Verdict) []drawing.Span {
	switch {
	case v.Likely == "":
		return []drawing.Span{plain("There is no plan yet, so no date. ")}
	case v.BenchHours == 0:
		return nil
	case v.Likely == v.Safe:
		return []drawing.Span{plain("Done by "), bold(day(v.Safe)), plain(", nine times in ten. ")}
	}
	return []drawing.Span{
		plain("Likely done on "), bold(day(v.Likely)), plain(", and by "), bold(day(v.Safe)), plain(" nine times in ten. "),
	}
}

func heading(r job.Result, u unit.System) string {
	at := "At " + u.Whole(unit.Length(r.Verdict.Overall.X))
	if r.Verdict.Overall.X == 0 {
		at = "As declared"
	}
	cures := r.Findings.Count(finding.Caution)
	switch {
	case r.Blocked():
		return at + " it cannot be made yet."
	case cures > 0:
		return fmt.Sprintf("%s it can be made, after %s.", at, count(cures, "cure", "cures"))
	}
	return at + " it can be made."
}

func printers(v job.Verdict, r job.Result) string {
	var used []string
	for _, s := range v.ByPrinter {
		if s.Prints > 0 {
			used = append(used, fmt.Sprintf("%s (%d)", printerName(r, s.Printer), s.Prints))
		}
	}
	return string(finding.Names(used...))
}

// errorWords say how far the copy may be off, and where most.
func errorWords(r job.Result, u unit.System) []drawing.Span {
	e := r.Verdict.Error
	switch {
	case e.U != 0:
	case len(r.Design.Outline) == 0:
		return ownErrorWords(r, u)
	default:
		return []drawing.Span{plain("The outline is taken as exact.")}
	}
	where := ""
	for _, p := range r.Design.Parts {
		if p.OnBody() && p.Span.Holds(e.Station) {
			where = ", in " + p.ID
			break
		}
	}
	return []drawing.Span{
		plain("Largest error at full size: "), bold("±\u00a0" + u.Fine(twice(float64(e.U)))),
		plain(fmt.Sprintf(" on the radius, 95 times in 100, at station %s%s.", u.Whole(e.Station), where)),
	}
}

// now is the piece to print now, and why.
func now(r job.Result) (string, string) {
	for i, p := range r.Division.Pieces {
		if p.ID.String() != r.Verdict.Tonight {
			continue
		}
		made := r.Prints[i]
		return fmt.Sprintf("%s, %s on %s, %s", pieceName(r, p), unit.Duration(made.Minutes), printerName(r, p.Printer), mass(made.Grams)),
			"It stays right: no open finding and no cut that may still move touches it."
	}
	return "", "No piece is sure to stay right yet: each is printed, or a finding or a cut that may still move touches it."
}

func foundWords(r job.Result) string {
	var words []string
	for _, s := range [...]finding.Severity{finding.Blocker, finding.Caution, finding.Note} {
		if n := r.Findings.Count(s); n > 0 {
			name := s.String()
			if n > 1 {
				name += "s"
			}
			words = append(words, fmt.Sprintf("%d %s", n, name))
		}
	}
	if len(words) == 0 {
		return "none"
	}
	return strings.Join(words, ", ")
}

func grade(s finding.Severity) drawing.Grade {
	switch s {
	case finding.Blocker:
		return drawing.Blocker
	case finding.Caution:
		return drawing.Caution
	}
	return drawing.Note
}
