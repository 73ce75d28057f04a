package server

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"scalewright/finding"
	"scalewright/job"
	"scalewright/unit"
)

func totalsOf(r job.Result) Totals {
	v := r.Verdict
	return Totals{
		Overall: hundredth(v.Overall.X), Across: hundredth(float64(v.Across)), Prints: v.Prints, Spools: v.Spools,
		Mass: hundredth(float64(v.Grams)), Money: hundredth(v.Money), PrintHours: hundredth(v.PrintHours), BenchHours: hundredth(v.BenchHours),
		Likely: v.Likely, Safe: v.Safe, Together: v.Together,
		Blockers: r.Findings.Count(finding.Blocker), Cautions: r.Findings.Count(finding.Caution), Notes: r.Findings.Count(finding.Note),
	}
}

// consequences are what changed from one result to the next.
func consequences(before, after *shown) Consequences {
	c := Consequences{Before: totalsOf(before.result), After: totalsOf(after.result)}
	c.New = newFindings(after, before)
	c.Gone = newFindings(before, after)
	c.Says = consequenceWords(c)
	return c
}

// newFindings are those of one result that the other has not.
func newFindings(of, than *shown) []Finding {
	var fresh finding.List
	for _, f := range of.result.Findings {
		same := func(g finding.Finding) bool {
			return g.Code == f.Code && g.At == f.At && g.Part == f.Part && math.Abs(float64(g.Station-f.Station)) < sameStation
		}
		if !slices.ContainsFunc(than.result.Findings, same) {
			fresh.Add(f)
		}
	}
	return findingsOf(of, fresh, unit.Metric)
}

// sameStation is how far a finding may move with an edit and still be the same, mm.
const sameStation = 1.0

// consequenceWords say in one line what an edit did.
func consequenceWords(c Consequences) string {
	var less, more, also []string
	amount := func(by, least float64, words string) {
		switch {
		case by >= least:
			more = append(more, words)
		case -by >= least:
			less = append(less, words)
		}
	}
	if c.After.Prints == 0 && c.Before.Prints > 0 {
		return "it cannot be made then: " + numbered(c.After.Blockers, "blocker")
	}
	hours := c.After.PrintHours - c.Before.PrintHours
	amount(hours, 0.05, fmt.Sprintf("%.1f printing hours", math.Abs(hours)))
	bench := c.After.BenchHours - c.Before.BenchHours
	amount(bench, 0.05, fmt.Sprintf("%.1f bench hours", math.Abs(bench)))
	grams := c.After.Mass - c.Before.Mass
	amount(grams, 0.5, fmt.Sprintf("%.0f g", math.Abs(grams)))
	prints := c.After.Prints - c.Before.Prints
	amount(float64(prints), 1, numbered(int(math.Abs(float64(prints))), "print"))
	for _, g := range [...]struct {
		name string
		by   int
	}{
		{"blocker", c.After.Blockers - c.Before.Blockers},
		{"caution", c.After.Cautions - c.Before.Cautions},
	} {
		switch {
		case g.by == -1:
			also = append(also, "a "+g.name+" clears")
		case g.by < 0:
			also = append(also, numbered(-g.by, g.name)+" clear")
		case g.by == 1:
			also = append(also, "a "+g.name+" comes up")
		case g.by > 0:
			also = append(also, numbered(g.by, g.name)+" come up")
		}
	}
	if c.After.Likely != c.Before.Likely && c.After.Likely != "" {
		also = append(also, "likely "+dayWords(c.After.Likely))
	}
	var out []string
	if len(more) > 0 {
		out = append(out, "adds "+strings.Join(more, ", "))
	}
	if len(less) > 0 {
		out = append(out, "saves "+strings.Join(less, ", "))
	}
	if out = append(out, also...); len(out) == 0 {
		return "changes no total"
	}
	return strings.Join(out, "; ")
}

func numbered(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
