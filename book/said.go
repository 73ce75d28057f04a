package book

import (
	"scalewright/job"
	"scalewright/unit"
)

// The book's ways of saying things, for the other faces: the page and the command
// line speak as it does.

// Day is a date in words; as written where it is none.
func Day(date string) string { return day(date) }

// Mass is a mass in grams or kilograms.
func Mass(g unit.Mass) string { return mass(g) }

// Money is an amount with its currency's sign.
func Money(x float64, currency string) string { return money(x, currency) }

// Found counts the findings of a result.
func Found(r job.Result) string { return foundWords(r) }

// Across says what is measured across a build.
func Across(r job.Result) string { return acrossWhat(r) }

// PrinterName is what the shop calls a printer.
func PrinterName(r job.Result, id string) string { return printerName(r, id) }

// Label is what a released piece bears; empty before its release.
func Label(r job.Result, piece string) string { return label(r, piece) }

// PrintFile is where out/ holds a piece's print file.
func PrintFile(piece string) string { return threeMFName(piece) }

// Bench is what the page of a piece says beside its drawing.
type Bench struct {
	Stands string
	Joins  []BenchJoin
	Steps  []string
	Care   string
}

// BenchJoin is one thing that a piece meets. Print and Comes are diameters in mm,
// empty of flat faces; the doubt of Comes holds 95 times in 100.
type BenchJoin struct {
	Where, Meets, Held, Deep, Print, Comes string
}

// BenchOf is the bench page of a piece in words.
func BenchOf(r job.Result, i int, system unit.System) Bench {
	b := &sheets{r: r, o: Options{System: system}}
	out := Bench{Stands: standsOn(r.Division.Pieces[i]), Steps: b.steps(i), Care: care(r, i)}
	for _, row := range b.joinTable(i).Rows {
		c := row.Cells
		out.Joins = append(out.Joins, BenchJoin{c[0], c[1], c[2], c[3], c[4], c[5]})
	}
	return out
}
