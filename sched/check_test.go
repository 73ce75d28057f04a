package sched_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"scalewright/sched"
)

// bench is a small problem that uses everything once, and a plan that keeps it.
// The person is open [0,60) and [100,160); a print is loaded, run and cleared
// with the printer kept; sanding is split over the closed time.
func bench() (sched.Problem, sched.Plan) {
	p := sched.Problem{
		Horizon: 300,
		Resources: []sched.Resource{
			{Name: "person", Capacity: 1, Calendar: sched.NewCalendar(sched.Interval{Start: 0, End: 60}, sched.Interval{Start: 100, End: 160})},
			{Name: "printer", Capacity: 1},
			{Name: "spools", Kind: sched.Consumable, Capacity: 2},
		},
		Tasks: []sched.Task{
			{Name: "print", Modes: []sched.Mode{{Phases: []sched.Phase{
				{Name: "load", Minutes: 10, Demands: []sched.Demand{{Resource: 0, Units: 1}, {Resource: 1, Units: 1, Keep: true}}},
				{Name: "run", Minutes: 70, MaxWait: new(0), Demands: []sched.Demand{{Resource: 1, Units: 1, Keep: true}, {Resource: 2, Units: 2}}},
				{Name: "clear", Minutes: 10, Demands: []sched.Demand{{Resource: 0, Units: 1}, {Resource: 1, Units: 1}}},
			}}}},
			{Name: "sand", Release: 5, Deadline: new(150), Modes: []sched.Mode{{Phases: []sched.Phase{
				{Minutes: 60, Work: sched.Splittable, Demands: []sched.Demand{{Resource: 0, Units: 1}}},
			}}}},
			{Name: "second print", Modes: []sched.Mode{{Phases: []sched.Phase{
				{Minutes: 20, Demands: []sched.Demand{{Resource: 1, Units: 1}}},
			}}}},
		},
		Lags: []sched.Lag{{From: 0, To: 2, Min: 5, Max: new(30)}},
	}
	iv := func(a, b int) []sched.Interval { return []sched.Interval{{Start: a, End: b}} }
	return p, sched.Plan{Status: sched.Feasible, Makespan: 145, Tasks: []sched.Placement{
		{Phases: []sched.Span{{Start: 0, End: 10, Work: iv(0, 10)}, {Start: 10, End: 80, Work: iv(10, 80)}, {Start: 110, End: 120, Work: iv(110, 120)}}},
		{Phases: []sched.Span{{Start: 10, End: 110, Work: []sched.Interval{{Start: 10, End: 60}, {Start: 100, End: 110}}}}},
		{Phases: []sched.Span{{Start: 125, End: 145, Work: iv(125, 145)}}},
	}}
}

func TestCheckNamesTheConstraint(t *testing.T) {
	iv := func(n ...int) (list []sched.Interval) {
		for i := 0; i < len(n); i += 2 {
			list = append(list, sched.Interval{Start: n[i], End: n[i+1]})
		}
		return list
	}
	span := func(n ...int) sched.Span {
		s := sched.Span{Work: iv(n...)}
		s.Start, s.End = n[0], n[len(n)-1]
		return s
	}
	for _, c := range []struct {
		name string
		edit func(*sched.Problem, *sched.Plan)
		want sched.Constraint
		says string
	}{
		{"nothing", func(*sched.Problem, *sched.Plan) {}, sched.Constraint{}, ""},
		{
			"a task missing", func(_ *sched.Problem, q *sched.Plan) { q.Tasks = q.Tasks[:2] },
			sched.Constraint{Kind: sched.PlanShape, Task: -1, Phase: -1, Lag: -1, Resource: -1},
			"2 placements for 3 tasks",
		},
		{
			"a mode there is not", func(_ *sched.Problem, q *sched.Plan) { q.Tasks[1].Mode = 1 },
			sched.Constraint{Kind: sched.PlanShape, Task: 1, Phase: -1, Lag: -1, Resource: -1},
			"no mode 1",
		},
		{
			"a span missing", func(_ *sched.Problem, q *sched.Plan) { q.Tasks[0].Phases = q.Tasks[0].Phases[:2] },
			sched.Constraint{Kind: sched.PlanShape, Task: 0, Phase: -1, Lag: -1, Resource: -1},
			"2 spans for 3 phases",
		},
		{
			"too short", func(_ *sched.Problem, q *sched.Plan) { q.Tasks[2].Phases[0] = span(125, 144) },
			sched.Constraint{Kind: sched.PhaseMinutes, Task: 2, Phase: 0, Lag: -1, Resource: -1},
			"19 minutes worked, 20 needed",
		},
		{
			"start beside the work", func(_ *sched.Problem, q *sched.Plan) { q.Tasks[2].Phases[0].Start-- },
			sched.Constraint{Kind: sched.PhaseMinutes, Task: 2, Phase: 0, Lag: -1, Resource: -1},
			"does not begin at 124",
		},
		{
			"split unbroken", func(_ *sched.Problem, q *sched.Plan) { q.Tasks[2].Phases[0] = span(125, 135, 136, 146) },
			sched.Constraint{Kind: sched.PhaseMinutes, Task: 2, Phase: 0, Lag: -1, Resource: -1},
			"split",
		},
		{
			"work not in order", func(_ *sched.Problem, q *sched.Plan) { q.Tasks[1].Phases[0].Work = iv(100, 110, 10, 60) },
			sched.Constraint{Kind: sched.PhaseMinutes, Task: 1, Phase: 0, Lag: -1, Resource: -1},
			"does not lie after",
		},
		{
			"phases overlap", func(_ *sched.Problem, q *sched.Plan) { q.Tasks[0].Phases[1] = span(9, 79) },
			sched.Constraint{Kind: sched.PhaseOrder, Task: 0, Phase: 1, Lag: -1, Resource: -1},
			"starts at 9",
		},
		{
			"run waits", func(_ *sched.Problem, q *sched.Plan) { q.Tasks[0].Phases[1] = span(11, 81) },
			sched.Constraint{Kind: sched.PhaseWait, Task: 0, Phase: 1, Lag: -1, Resource: -1},
			"1 minutes, at most 0",
		},
		{
			"cleared at night", func(_ *sched.Problem, q *sched.Plan) { q.Tasks[0].Phases[2] = span(91, 101) },
			sched.Constraint{Kind: sched.ClosedTime, Task: 0, Phase: 2, Lag: -1, Resource: 0},
			"[91,101)",
		},
		{
			"idles in open time", func(_ *sched.Problem, q *sched.Plan) { q.Tasks[1].Phases[0] = span(10, 60, 101, 111) },
			sched.Constraint{Kind: sched.ClosedTime, Task: 1, Phase: 0, Lag: -1, Resource: -1},
			"[100,101), which is open",
		},
		{
			"person twice", func(_ *sched.Problem, q *sched.Plan) { q.Tasks[0].Phases[2] = span(109, 119) },
			sched.Constraint{Kind: sched.CapacityUse, Task: 0, Phase: 2, Lag: -1, Resource: 0},
			"2 units at minute 109, there are 1",
		},
		{
			"printer taken though it stands", func(_ *sched.Problem, q *sched.Plan) { q.Tasks[2].Phases[0] = span(85, 105) },
			sched.Constraint{Kind: sched.CapacityUse, Task: 2, Phase: 0, Lag: -1, Resource: 1},
			"2 units at minute 85",
		},
		{
			"one spool less", func(p *sched.Problem, _ *sched.Plan) { p.Resources[2].Capacity = 1 },
			sched.Constraint{Kind: sched.StockUse, Task: -1, Phase: -1, Lag: -1, Resource: 2},
			"2 units drawn, there are 1",
		},
		{
			"released later", func(p *sched.Problem, _ *sched.Plan) { p.Tasks[1].Release = 11 },
			sched.Constraint{Kind: sched.ReleaseTime, Task: 1, Phase: -1, Lag: -1, Resource: -1},
			"released at 11",
		},
		{
			"due earlier", func(p *sched.Problem, _ *sched.Plan) { p.Tasks[1].Deadline = new(109) },
			sched.Constraint{Kind: sched.DeadlineTime, Task: 1, Phase: -1, Lag: -1, Resource: -1},
			"due by 109",
		},
		{
			"horizon nearer", func(p *sched.Problem, _ *sched.Plan) { p.Horizon = 144 },
			sched.Constraint{Kind: sched.HorizonTime, Task: 2, Phase: -1, Lag: -1, Resource: -1},
			"the horizon is 144",
		},
		{
			"too soon after", func(_ *sched.Problem, q *sched.Plan) { q.Tasks[2].Phases[0] = span(124, 144) },
			sched.Constraint{Kind: sched.LagMin, Task: -1, Phase: -1, Lag: 0, Resource: -1},
			"4 minutes, at least 5",
		},
		{
			"too late after", func(_ *sched.Problem, q *sched.Plan) { q.Tasks[2].Phases[0] = span(151, 171) },
			sched.Constraint{Kind: sched.LagMax, Task: -1, Phase: -1, Lag: 0, Resource: -1},
			"31 minutes, at most 30",
		},
		{
			"makespan", func(_ *sched.Problem, q *sched.Plan) { q.Makespan = 144 },
			sched.Constraint{Kind: sched.MakespanSaid, Task: -1, Phase: -1, Lag: -1, Resource: -1},
			"144 stated",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, plan := bench()
			c.edit(&p, &plan)
			err := sched.Check(p, plan)
			if c.says == "" {
				if err != nil {
					t.Fatalf("Check = %v, want nil", err)
				}
				return
			}
			v, ok := errors.AsType[*sched.Violation](err)
			if !ok {
				t.Fatalf("Check = %v, want a violation", err)
			}
			if v.Constraint != c.want || !strings.Contains(v.Error(), c.says) {
				t.Errorf("Check = %v: %s\nwant %v: … %s", v.Constraint, v.Error(), c.want, c.says)
			}
		})
	}
}

func TestLagOfModesOnly(t *testing.T) {
	p, plan := bench()
	p.Lags[0].ToModes = []int{}
	plan.Tasks[2].Phases[0] = sched.Span{Start: 200, End: 220, Work: []sched.Interval{{Start: 200, End: 220}}}
	plan.Makespan = 220
	if err := sched.Check(p, plan); err != nil {
		t.Errorf("a lag of no mode binds: %v", err)
	}
}

func TestInfeasibleSaysWhy(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*sched.Problem)
		want []string
	}{
		{
			"deadline behind a lag", func(p *sched.Problem) { p.Tasks[2].Deadline = new(100) },
			[]string{"deadline of task 2 (second print)", "least lag from task 0 (print) to task 2 (second print)"},
		},
		{"lags in a ring", func(p *sched.Problem) {
			p.Lags = append(p.Lags, sched.Lag{From: 2, To: 0, Kind: sched.StartFinish})
		}, []string{"least lag from task 0 (print) to task 2", "least lag from task 2 (second print) to task 0"}},
		{
			"more than there is", func(p *sched.Problem) { p.Tasks[2].Modes[0].Phases[0].Demands[0].Units = 2 },
			[]string{"capacity of task 2 (second print), phase 0 of resource 1 (printer)"},
		},
		{"spools run out", func(p *sched.Problem) {
			p.Tasks[2].Modes[0].Phases[0].Demands = []sched.Demand{{Resource: 2, Units: 1}}
		}, []string{"stock of resource 2 (spools)"}},
		{
			"no stretch long enough", func(p *sched.Problem) { p.Tasks[0].Modes[0].Phases[2].Minutes = 61 },
			[]string{"closed time of task 0 (print), phase 2"},
		},
		{"more work than hours", func(p *sched.Problem) {
			for range 3 {
				p.Tasks = append(p.Tasks, sched.Task{Name: "fill", Modes: []sched.Mode{{Phases: []sched.Phase{
					{Minutes: 20, Demands: []sched.Demand{{Resource: 0, Units: 1}}},
				}}}})
			}
		}, []string{"capacity of resource 0 (person)", "horizon"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, _ := bench()
			c.edit(&p)
			plan, err := sched.Serial(context.Background(), p, sched.LatestFinish)
			if err != nil || plan.Status != sched.Infeasible || plan.Tasks != nil {
				t.Fatalf("Serial = %v, %v, want infeasible", plan.Status, err)
			}
			var all []string
			for _, b := range plan.Because {
				all = append(all, p.Describe(b))
			}
			for _, w := range c.want {
				if !strings.Contains(strings.Join(all, "\n"), w) {
					t.Errorf("because %q, want %q among them", all, w)
				}
			}
		})
	}
}
