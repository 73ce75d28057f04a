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
	if len(in.People) == 0 {
		return out, finding.List{finding.New("nobody-works", in.At, nil)}, nil
	}
	b, err := newBoard(in, (int(start.Weekday())+6)%7*sched.Day)
	if err != nil {
		return out, nil, fmt.Errorf("expand the weekly hours: %w", err)
	}
	b.fill()
	plan, err := sched.BestSerial(ctx, b.problem)
	if err != nil {
		return out, nil, fmt.Errorf("plan %d tasks: %w", len(b.tasks), err)
	}
	if plan.Tasks == nil {
		return out, finding.List{finding.New("no-plan", in.At, finding.Args{"weeks": finding.Count(horizonWeeks)})}, nil
	}
	if err := sched.Check(b.problem, plan); err != nil {
		panic("calendar: internal error: " + err.Error())
	}
	out.Tasks = b.placed(plan)
	for _, t := range out.Tasks {
		out.Bench += t.Bench
		for _, s := range t.Steps {
			if s.Name == StepRun {
				out.Print += s.To - s.From
			}
		}
	}
	out.Finish = start.AddDate(0, 0, max(0, plan.Makespan-1)/sched.Day).Format(time.DateOnly)
	return out, late(in, out), nil
}

// placed gives each task its times, by start.
func (b *board) placed(plan sched.Plan) []Task {
	tasks := slices.Clone(b.tasks)
	for i := range tasks {
		at := plan.Tasks[i]
		mode := b.problem.Tasks[i].Modes[at.Mode]
		tasks[i].Who = mode.Name
		tasks[i].From, tasks[i].To = unit.Minutes(at.Start()), unit.Minutes(at.Finish())
		for k, span := range at.Phases {
			tasks[i].Steps = append(tasks[i].Steps, Step{mode.Phases[k].Name, unit.Minutes(span.Start), unit.Minutes(span.End)})
		}
	}
	slices.SortStableFunc(tasks, func(a, b Task) int { return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.ID, b.ID)) })
	return tasks
}

func minutesOf(p sched.Phase) unit.Minutes { return unit.Minutes(p.Minutes) }

// late says that the plan misses the fixed date.
func late(in Input, out Result) finding.List {
	if in.Ready == "" || out.Finish <= in.Ready {
		return nil
	}
	return finding.List{finding.New("too-late", in.At.Key("ready"), finding.Args{
		"finish": finding.Name(out.Finish), "ready": finding.Name(in.Ready),
	})}
}
