package server

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"scalewright/book"
	"scalewright/job"
	"scalewright/model"
	"scalewright/stage/calendar"
	"scalewright/unit"
)

// taskOfPlan is a task as the calendar has it.
type taskOfPlan = calendar.Task

type todayIn struct {
	OnBuild
	Date string `query:"date" maxLength:"10" doc:"2026-12-01; today if left out."`
}

// today lists the acts of a day; when none is planned for it, of the next day that
// has any.
func (s *Server) today(ctx context.Context, d *desk, in todayIn) (Today, error) {
	if in.Date == "" {
		in.Date = s.o.Now().Format(time.DateOnly)
	} else if _, err := time.Parse(time.DateOnly, in.Date); err != nil {
		return Today{}, badRequest(fmt.Sprintf("%q is not a date", in.Date), "write it like 2026-12-01")
	}
	now, asOf, err := d.see(ctx, throughAll)
	if err != nil {
		return Today{}, err
	}
	r := now.result
	out := Today{AsOf: asOf, Asked: in.Date, Acts: []Act{}, Sure: sureWords(r.Calendar)}
	start, err := time.Parse(time.DateOnly, r.Calendar.Start)
	if err != nil || r.Calendar.Likely == "" {
		return out, nil // there is no plan
	}
	day := func(a calendar.Act) string { return at(start, a.Step.From).Format(time.DateOnly) }
	acts := calendar.Acts(r.Calendar)
	first := slices.IndexFunc(acts, func(a calendar.Act) bool { return day(a) >= in.Date })
	if first < 0 {
		return out, nil
	}
	out.Date = day(acts[first])
	last := first
	for ; last < len(acts) && day(acts[last]) == out.Date; last++ {
		one := actOf(r, start, acts[last])
		out.Acts = append(out.Acts, one)
		if out.Print == nil && one.Step == calendar.StepLoad {
			out.Print = new(one)
		}
	}
	out.Care = book.Care(acts[first:last])
	return out, nil
}

func at(start time.Time, m unit.Minutes) time.Time { return start.Add(time.Duration(m) * time.Minute) }

func sureWords(c calendar.Result) string {
	switch {
	case c.Likely == "":
		return ""
	case c.Likely == c.Safe:
		return "Safe " + dayWords(c.Safe) + "."
	}
	return "Likely " + dayWords(c.Likely) + ", safe " + dayWords(c.Safe) + "."
}

// actOf is an act with what checking its box logs.
func actOf(r job.Result, start time.Time, a calendar.Act) Act {
	t := a.Task
	out := Act{
		ID: fmt.Sprintf("%s.%s.%d", t.ID, a.Step.Name, int(a.Step.From)), Task: t.ID, Kind: t.Kind, Step: a.Step.Name,
		Says: book.ActWords(r, a), From: at(start, a.Step.From).Format("2006-01-02T15:04:05Z07:00"),
		Minutes: int(a.Step.To - a.Step.From), Who: t.Who, Piece: t.Piece, Printer: t.Printer,
		Planned: int(a.Step.To - a.Step.From), Critical: t.Critical > 0.5,
	}
	out.Detail = unit.Duration(unit.Minutes(out.Minutes)) + " by " + t.Who
	if a.Then != nil {
		what := "hardens"
		if a.Then.Name == calendar.StepRun {
			what = "prints"
		}
		out.Detail += fmt.Sprintf(", then it %s for %s by itself", what, unit.Duration(a.Then.To-a.Then.From))
	}
	if t.Kind != calendar.KindPrint {
		out.LogKind, out.LogTask = string(model.Done), t.ID
		return out
	}
	i := pieceAt(r, t.Piece)
	if i < 0 {
		return out
	}
	piece := r.Division.Pieces[i]
	out.Label = book.Label(r, t.Piece)
	if i < len(r.Prints) {
		out.Planned, out.Grams = int(r.Prints[i].Minutes), int(math.Round(float64(r.Prints[i].Grams)))
		out.Detail += ", " + book.Mass(r.Prints[i].Grams)
	}
	if len(job.Provisional(r, piece)) > 0 {
		return out // released first
	}
	switch a.Step.Name {
	case calendar.StepLoad:
		out.LogKind = string(model.Started)
	case calendar.StepClear:
		out.LogKind = string(model.Printed)
	}
	return out
}

func plan(ctx context.Context, d *desk, in seenIn) (Plan, error) {
	s, asOf, err := d.see(ctx, job.Planned)
	if err != nil {
		return Plan{}, err
	}
	r := s.result
	c := r.Calendar
	out := Plan{
		AsOf: asOf, Start: c.Start, Finish: c.Finish, Likely: c.Likely, Safe: c.Safe, Ready: s.loaded.Declared.Calendar.Ready,
		Says: sureWords(c), Tasks: []PlanTask{}, Printers: []Row{}, People: []Row{},
	}
	for _, t := range c.Tasks {
		one := PlanTask{t.ID, t.Kind, t.Name, t.Piece, t.Who, t.Printer, int(t.From), int(t.To), int(t.Bench), t.Critical, []PlanStep{}}
		for _, step := range t.Steps {
			one.Steps = append(one.Steps, PlanStep{step.Name, int(step.From), int(step.To), step.ByItself()})
		}
		out.Tasks = append(out.Tasks, one)
	}
	for _, p := range r.Design.Shop.Printers {
		out.Printers = append(out.Printers, Row{p.ID, book.PrinterName(r, p.ID)})
	}
	for _, p := range r.Design.Shop.People {
		out.People = append(out.People, Row{p.ID, p.Name})
	}
	return out, nil
}
