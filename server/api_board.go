package server

import (
	"context"
	"fmt"
	"math"

	"scalewright/book"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/lane"
	"scalewright/unit"
)

type boardIn struct {
	OnBuild
	InUnits
}

// board never waits for a result: the window stands before there is one.
func board(_ context.Context, d *desk, in boardIn) (Board, error) {
	d.used()
	history, err := d.folder.History()
	if err != nil {
		return Board{}, err
	}
	u := in.system()
	d.mu.Lock()
	s := d.shown
	if s == nil && d.partial.has(job.Settled) {
		s = d.partial
	}
	out := Board{
		AsOf: d.asOf(s), ID: d.id, Name: d.loaded.Declared.Name, Invented: d.loaded.Declared.Invented, Folder: d.folder.Dir(),
		Currency: d.loaded.Declared.Shop.Currency, Trouble: d.trouble, Empty: s == nil,
		Undo: history.Undo, Redo: history.Redo, Unreadable: []Finding{},
	}
	if d.run != nil {
		out.Run = d.run.run
	}
	if unread := d.unread; unread != nil {
		w := finding.Writer{System: u, Locate: unread.Locate}
		for _, f := range unread.Findings {
			out.Unreadable = append(out.Unreadable, findingOf(f, w))
		}
	}
	declared := d.loaded
	d.mu.Unlock()
	if out.Undo == nil {
		out.Undo = []string{}
	}
	if out.Redo == nil {
		out.Redo = []string{}
	}
	if s == nil {
		s = newShown(0, "", declared, job.Result{Name: out.Name, Revision: out.AsOf.Revision}, map[string]bool{})
	}
	r := s.result
	out.Blocked, out.Ratio = r.Blocked(), r.Enlarge.Ratio
	out.Sheets, out.Title = sheetTabs(s, u), titleCells(s, u)
	out.Lanes = []LaneHead{}
	if !out.Empty {
		p := s.prepared()
		out.Span = stretch(float64(p.Span.From), float64(p.Span.To))
		for _, l := range lane.All() {
			if s.has(needs[l.ID]) {
				out.Lanes = append(out.Lanes, laneHead(l, p, u))
			}
		}
		if worst, ok := r.Findings.Worst(); ok && worst > finding.Note {
			out.Worst = laneOf(r.Findings[0].Stage)
		}
	}
	return out, nil
}

func laneHead(l lane.Lane, p *lane.Prepared, u unit.System) LaneHead {
	says := l.Says(p, u)
	return LaneHead{l.ID, l.Name, l.What(u), says.Says, says.Remark, says.Alarm}
}

func stretch(from, to float64) Stretch {
	// Rounded inwards would cut the ends off.
	return Stretch{math.Floor(from*100) / 100, math.Ceil(to*100) / 100}
}

// sheetTabs is the register, each with its one reading.
func sheetTabs(s *shown, u unit.System) []SheetTab {
	r := s.result
	v := r.Verdict
	blocked := r.Blocked()
	tab := func(n int, id, name, reading string, alarm bool) SheetTab {
		return SheetTab{n, id, name, reading, alarm}
	}
	verdict := "nothing to judge yet"
	switch cures := r.Findings.Count(finding.Caution); {
	case blocked:
		verdict = "cannot be made yet"
	case v.Prints > 0 && cures > 0:
		verdict = "can be made, after " + numbered(cures, "cure")
	case v.Prints > 0:
		verdict = "can be made"
	}
	known := "not measured"
	if x := r.Enlarge.Reference; x.X > 0 {
		known = u.Tenth(unit.Length(x.X))
	}
	size := "not known"
	if r.Enlarge.Ratio > 0 {
		size = fmt.Sprintf("× %.4g, %s", r.Enlarge.Ratio, u.Whole(unit.Length(v.Overall.X)))
	}
	lights := "none"
	if n := len(r.Design.Components); n > 0 {
		lights = numbered(n, "component")
	}
	likely := "no plan"
	if v.Likely != "" {
		likely = "likely " + shortDay(v.Likely)
	}
	prints := "no prints yet"
	if v.Prints > 0 {
		prints = numbered(v.Prints, "print")
	}
	return []SheetTab{
		tab(1, "verdict", "Verdict", verdict, blocked),
		tab(2, "reference", "Reference", known, false),
		tab(3, "size", "Size", size, false),
		tab(4, "sheet", "Sheet", prints, false),
		tab(5, "lights", "Lights & sound", lights, false),
		tab(6, "calendar", "Calendar", likely, false),
		tab(7, "book", "Book", fmt.Sprintf("rev %d", r.Revision), false),
		tab(8, "shop", "Shop", numbered(len(s.loaded.Declared.Shop.Printers), "printer"), false),
	}
}

// titleCells are the cells of the title block.
func titleCells(s *shown, u unit.System) []TitleCell {
	r := s.result
	v := r.Verdict
	whole := func(l unit.Length) string {
		if l == 0 {
			return "not known"
		}
		return u.Whole(l)
	}
	reference, ratio := "not measured", "not known"
	if x := r.Enlarge.Reference; x.X > 0 {
		reference = u.Tenth(unit.Length(x.X))
	}
	if r.Enlarge.Ratio > 0 {
		ratio = fmt.Sprintf("× %.4g", r.Enlarge.Ratio)
	}
	in := "mm"
	if u == unit.FeetInches {
		in = "feet, inches"
	}
	finish := "no plan"
	if v.Likely != "" {
		finish = "likely " + shortDay(v.Likely) + ", safe " + shortDay(v.Safe)
	}
	paper := string(r.Design.Shop.Paper.Size)
	if paper == "" {
		paper = "A4"
		if u == unit.FeetInches {
			paper = "letter"
		}
	}
	return []TitleCell{
		{"build", "Build", r.Name, ""},
		{"reference", "Reference", reference, "reference"},
		{"enlargement", "Enlargement", ratio, "reference"},
		{"overall", "Overall", whole(unit.Length(v.Overall.X)), ""},
		{"across", book.Across(r), whole(v.Across), "reference"},
		{"prints", "Prints", fmt.Sprint(v.Prints), ""},
		{"mass", "Mass of the prints", book.Mass(v.Grams), ""},
		{"finish", "Done", finish, ""},
		{"findings", "Findings", book.Found(r), ""},
		{"lengths", "Lengths in", in, ""},
		{"paper", "Paper", paper, ""},
		{"rev", "Rev, begun", fmt.Sprintf("%d, %s", r.Revision, book.Day(s.loaded.Declared.Calendar.Start)), ""},
	}
}

type verdictIn struct {
	OnBuild
	InUnits
}

func verdictSheet(ctx context.Context, d *desk, in verdictIn) (VerdictSheet, error) {
	s, asOf, err := d.see(ctx, throughAll)
	if err != nil {
		return VerdictSheet{}, err
	}
	u, r := in.system(), s.result
	say := book.Say(r, u)
	out := VerdictSheet{
		AsOf: asOf, Heading: say.Heading, Worst: findingsOf(s, r.Verdict.Worst, u), Because: say.Because, Try: say.Try,
		Totals: totalsOf(r), Says: []Words{},
	}
	for _, sp := range say.Says {
		out.Says = append(out.Says, Words{sp.Text, sp.Face.IsBold()})
	}
	named := 0
	for _, f := range r.Verdict.Worst {
		if f.Severity > finding.Note {
			named++
		}
	}
	out.More = max(0, r.Findings.Count(finding.Blocker)+r.Findings.Count(finding.Caution)-named)
	if say.Now != "" {
		out.Tonight = &Tonight{r.Verdict.Tonight, say.Now}
	}
	return out, nil
}

// throughAll is a step that only a whole result has.
const throughAll = ""
