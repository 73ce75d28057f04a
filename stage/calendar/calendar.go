package calendar

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"scalewright/finding"
	"scalewright/sched"
	"scalewright/unit"
)

// Run plans the work.
func Run(ctx context.Context, in Input) (Result, finding.List, error) {
	start, err := time.Parse(time.DateOnly, in.Start)
	if err != nil {
		return Result{}, nil, fmt.Errorf("read the start date: %w", err)
	}
	out := Result{Start: in.Start, Finish: in.Start}
	b, err := newBoard(in, (int(start.Weekday())+6)%7*sched.Day)
	if err != nil {
		return out, nil, fmt.Errorf("expand the weekly hours: %w", err)
	}
	b.fill()
	out.Bench = b.bench()
	if len(in.People) == 0 {
		return out, finding.List{finding.New("nobody-works", in.At, nil)}, nil
	}
	plan, doubt, err := b.surest(ctx)
	if err != nil {
		return out, nil, fmt.Errorf("plan %d tasks: %w", len(b.tasks), err)
	}
	if plan.Tasks == nil {
		return out, finding.List{finding.New("no-plan", in.At, finding.Args{"weeks": finding.Count(horizonWeeks)})}, nil
	}
	dates := [...]time.Time{dayAt(start, plan.Makespan), dayAt(start, doubt.quantile(likely)), dayAt(start, doubt.quantile(safe))}
	for _, d := range dates {
		if d.Year() > latestYear {
			return out, finding.List{finding.New("date-beyond", in.At.Key("start"), finding.Args{
				"start": finding.Name(in.Start), "year": finding.Count(latestYear),
			})}, nil
		}
	}
	out.Tasks = b.placed(plan, doubt)
	for _, t := range out.Tasks {
		for _, s := range t.Steps {
			if s.Name == StepRun {
				out.Print += s.To - s.From
			}
		}
	}
	out.Finish, out.Likely, out.Safe = dates[0].Format(time.DateOnly), dates[1].Format(time.DateOnly), dates[2].Format(time.DateOnly)
	return out, late(in, out), nil
}

// surest is, of the plans that the rules of serial generation give, the one whose
// safe date comes first; of equals the one whose likely date does, then the one
// that is planned to end first. All meet the same luck.
func (b *board) surest(ctx context.Context) (sched.Plan, sampled, error) {
	var plan sched.Plan
	var doubt sampled
	for _, rule := range sched.Rules() {
		p, err := sched.Serial(ctx, b.problem, rule)
		if err != nil {
			return plan, doubt, err
		}
		if p.Tasks == nil || plan.Tasks != nil && slices.EqualFunc(p.Tasks, plan.Tasks, sameStart) {
			continue
		}
		if err := sched.Check(b.problem, p); err != nil {
			panic("calendar: internal error: " + err.Error())
		}
		s, err := b.sample(ctx, p)
		if err != nil {
			return plan, doubt, err
		}
		if plan.Tasks == nil || cmp.Or(
			cmp.Compare(s.quantile(safe)/sched.Day, doubt.quantile(safe)/sched.Day),
			cmp.Compare(s.quantile(likely)/sched.Day, doubt.quantile(likely)/sched.Day),
			cmp.Compare(p.Makespan, plan.Makespan),
		) < 0 {
			plan, doubt = p, s
		}
	}
	return plan, doubt, nil
}

func sameStart(a, b sched.Placement) bool { return a.Mode == b.Mode && a.Start() == b.Start() }

// The dates that are told: by the first half of the samples is done, by the second
// nine in ten.
const (
	likely = 0.5
	safe   = 0.9
)

// dayAt is the day on which what ends at a minute ends.
func dayAt(start time.Time, minute int) time.Time {
	return start.AddDate(0, 0, max(0, minute-1)/sched.Day)
}

// placed gives each task its times, by start.
func (b *board) placed(plan sched.Plan, doubt sampled) []Task {
	tasks := slices.Clone(b.tasks)
	for i := range tasks {
		at := plan.Tasks[i]
		mode := b.problem.Tasks[i].Modes[at.Mode]
		tasks[i].Who = mode.Name
		tasks[i].Critical = doubt.critical[i]
		tasks[i].From, tasks[i].To = unit.Minutes(at.Start()), unit.Minutes(at.Finish())
		for k, span := range at.Phases {
			for _, w := range span.Work {
				tasks[i].Steps = append(tasks[i].Steps, Step{mode.Phases[k].Name, unit.Minutes(w.Start), unit.Minutes(w.End)})
			}
		}
	}
	slices.SortStableFunc(tasks, func(a, b Task) int { return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.ID, b.ID)) })
	return tasks
}

// late says that the plan misses the fixed date, or may.
func late(in Input, out Result) finding.List {
	args := finding.Args{"finish": finding.Name(out.Likely), "ready": finding.Name(in.Ready)}
	switch {
	case in.Ready == "" || len(out.Tasks) == 0 || out.Safe <= in.Ready:
		return nil
	case out.Likely > in.Ready:
		return finding.List{finding.New("too-late", in.At.Key("ready"), args)}
	}
	args["safe"] = finding.Name(out.Safe)
	args["days"] = finding.Count(daysBetween(in.Ready, out.Safe))
	args["tasks"] = finding.Names(critical(out.Tasks)...)
	return finding.List{finding.New("may-be-late", in.At.Key("ready"), args)}
}

func daysBetween(from, to string) int {
	a, errA := time.Parse(time.DateOnly, from)
	b, errB := time.Parse(time.DateOnly, to)
	if errA != nil || errB != nil {
		return 0
	}
	return int(b.Sub(a).Hours() / 24)
}

// How many tasks the end is said to hang on.
const criticalNamed = 3

// critical are the tasks that the end hangs on most often.
func critical(tasks []Task) []string {
	most := slices.Clone(tasks)
	slices.SortStableFunc(most, func(a, b Task) int { return cmp.Compare(b.Critical, a.Critical) })
	var out []string
	for _, t := range most[:min(criticalNamed, len(most))] {
		if t.Critical > 0 {
			out = append(out, t.Name)
		}
	}
	return out
}
