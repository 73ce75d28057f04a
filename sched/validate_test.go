package sched_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"scalewright/sched"
)

func TestValidateRefuses(t *testing.T) {
	phase := func(p *sched.Problem) *sched.Phase { return &p.Tasks[0].Modes[0].Phases[0] }
	for _, c := range []struct {
		name, says string
		edit       func(*sched.Problem)
	}{
		{"negative horizon", "horizon -1", func(p *sched.Problem) { p.Horizon = -1 }},
		{"unknown kind", "resource 0 (person): unknown kind", func(p *sched.Problem) { p.Resources[0].Kind = 7 }},
		{"huge capacity", "capacity", func(p *sched.Problem) { p.Resources[0].Capacity = 1 << 40 }},
		{"stock with hours", "no calendar", func(p *sched.Problem) { p.Resources[2].Calendar = sched.NewCalendar() }},
		{"calendar too far", "beyond minute", func(p *sched.Problem) {
			p.Resources[0].Calendar = sched.NewCalendar(sched.Interval{Start: 0, End: 1 << 31})
		}},
		{"no mode", "task 0 (print): no mode", func(p *sched.Problem) { p.Tasks[0].Modes = nil }},
		{"no phase", "no phase", func(p *sched.Problem) { p.Tasks[0].Modes[0].Phases = nil }},
		{"release", "release -1", func(p *sched.Problem) { p.Tasks[0].Release = -1 }},
		{"deadline", "deadline -1", func(p *sched.Problem) { p.Tasks[0].Deadline = new(-1) }},
		{"minutes", "phase 0 (load): -1 minutes", func(p *sched.Problem) { phase(p).Minutes = -1 }},
		{"work", "way of working 9", func(p *sched.Problem) { phase(p).Work = 9 }},
		{"first waits", "the first phase waits for none", func(p *sched.Problem) { phase(p).MaxWait = new(3) }},
		{"negative wait", "wait -3", func(p *sched.Problem) { p.Tasks[0].Modes[0].Phases[1].MaxWait = new(-3) }},
		{"no such resource", "no resource 3", func(p *sched.Problem) { phase(p).Demands[0].Resource = 3 }},
		{"twice", "demanded twice", func(p *sched.Problem) { phase(p).Demands[1].Resource = 0 }},
		{"units", "-1 units", func(p *sched.Problem) { phase(p).Demands[0].Units = -1 }},
		{"last keeps", "keeps resource 1 for no other", func(p *sched.Problem) { p.Tasks[0].Modes[0].Phases[2].Demands[1].Keep = true }},
		{"stock kept", "consumable 2 cannot be kept", func(p *sched.Problem) { p.Tasks[0].Modes[0].Phases[1].Demands[1].Keep = true }},
		{"lag to nowhere", "lag 0: there is no task 9", func(p *sched.Problem) { p.Lags[0].To = 9 }},
		{"lag to itself", "to itself", func(p *sched.Problem) { p.Lags[0].To = 0 }},
		{"lag kind", "unknown kind 4", func(p *sched.Problem) { p.Lags[0].Kind = 4 }},
		{"lag bounds", "bounds", func(p *sched.Problem) { p.Lags[0].Max = new(1 << 40) }},
		{"lag of no mode", "no mode 5", func(p *sched.Problem) { p.Lags[0].FromModes = []int{5} }},
	} {
		p, _ := bench()
		c.edit(&p)
		_, err := sched.Serial(context.Background(), p, sched.LatestFinish)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("Serial(%s) = %v, want %q", c.name, err, c.says)
		}
	}
}

// TestNothingToDo: the zero problem is valid and its plan is empty and optimal.
func TestNothingToDo(t *testing.T) {
	plan, err := sched.Serial(context.Background(), sched.Problem{}, sched.LatestFinish)
	if err != nil || plan.Status != sched.Optimal || plan.Makespan != 0 {
		t.Errorf("Serial(nothing) = %v, %v", plan, err)
	}
	if err := sched.Check(sched.Problem{}, plan); err != nil {
		t.Errorf("Check(nothing) = %v", err)
	}
}

func TestDecodeListRefuses(t *testing.T) {
	p, _ := bench()
	for name, list := range map[string]sched.List{
		"short":     {Order: []int{0, 1}},
		"twice":     {Order: []int{0, 1, 1}},
		"no task":   {Order: []int{0, 1, 3}},
		"few modes": {Order: []int{0, 1, 2}, Modes: []int{0}},
		"no mode":   {Order: []int{0, 1, 2}, Modes: []int{0, 0, 1}},
	} {
		if _, err := sched.DecodeList(context.Background(), p, list); err == nil {
			t.Errorf("DecodeList(%s) is taken", name)
		}
	}
	if _, err := sched.Serial(context.Background(), p, sched.Rule(99)); err == nil {
		t.Error("Serial takes a rule there is not")
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p, _ := bench()
	if _, err := sched.Serial(ctx, p, sched.LatestFinish); !errors.Is(err, context.Canceled) {
		t.Errorf("Serial(cancelled) = %v", err)
	}
}

// TestGivenModesAreTaken: the second mode is slower, and is used when asked for.
func TestGivenModesAreTaken(t *testing.T) {
	p := workshop(1)
	for m := range 2 {
		plan, err := sched.DecodeList(context.Background(), p, sched.List{Order: []int{0, 1, 2}, Modes: []int{m, 0, 0}})
		if err != nil || plan.Tasks[0].Mode != m {
			t.Errorf("DecodeList(mode %d) took %d, %v", m, plan.Tasks[0].Mode, err)
		}
	}
}

// TestModeClearedFirst: a print that would end sooner on the first printer waits
// longer to be cleared there; the mode that is cleared first is chosen.
func TestModeClearedFirst(t *testing.T) {
	hours := sched.NewCalendar(sched.Interval{Start: 0, End: 20}, sched.Interval{Start: 100, End: 120}, sched.Interval{Start: 300, End: 320})
	person := sched.Demand{Resource: 0, Units: 1}
	mode := func(printer, run int) sched.Mode {
		kept := sched.Demand{Resource: printer, Units: 1, Keep: true}
		return sched.Mode{Phases: []sched.Phase{
			{Minutes: 5, Demands: []sched.Demand{person, kept}},
			{Minutes: run, Demands: []sched.Demand{kept}, MaxWait: new(0)},
			{Minutes: 5, Demands: []sched.Demand{person, {Resource: printer, Units: 1}}},
		}}
	}
	p := sched.Problem{
		Resources: []sched.Resource{{Capacity: 1, Calendar: hours}, {Capacity: 1}, {Capacity: 1}},
		Tasks:     []sched.Task{{Modes: []sched.Mode{mode(1, 130), mode(2, 95)}}, {Modes: []sched.Mode{mode(1, 130), mode(2, 95)}}},
	}
	plan, err := sched.Serial(context.Background(), p, sched.LatestFinish)
	if err != nil {
		t.Fatal(err)
	}
	// Run 95 from minute 5 ends at 100 and is cleared by 105; run 130 not before 305.
	if plan.Tasks[0].Mode != 1 || plan.Tasks[0].Finish() != 105 || plan.Tasks[1].Mode != 0 || plan.Tasks[1].Finish() != 305 {
		t.Errorf("plan = %+v", plan.Tasks)
	}
	if err := sched.Check(p, plan); err != nil {
		t.Error(err)
	}
}

// TestMissedWindowComesBack: the opener is taken out and delayed so that its
// follower, held up by the calendar, still lies in the window.
func TestMissedWindowComesBack(t *testing.T) {
	late := sched.NewCalendar(sched.Interval{Start: 50, End: 90})
	p := sched.Problem{
		Resources: []sched.Resource{{Capacity: 1}, {Capacity: 1, Calendar: late}, {Capacity: 1}},
		Tasks:     make([]sched.Task, 3),
		Lags:      []sched.Lag{{From: 0, To: 2, Max: new(8)}},
	}
	for j, minutes := range []int{10, 15, 10} {
		r := []int{0, 1, 1}[j]
		p.Tasks[j].Modes = []sched.Mode{{Phases: []sched.Phase{{Minutes: minutes, Demands: []sched.Demand{{Resource: r, Units: 1}}}}}}
	}
	// The second task takes the late resource first, which heads cannot foresee.
	p.Tasks[1].Deadline = new(65)
	plan, err := sched.DecodeList(context.Background(), p, sched.List{Order: []int{1, 0, 2}})
	if err != nil || plan.Tasks == nil {
		t.Fatalf("DecodeList = %v, %v", plan.Status, err)
	}
	if err := sched.Check(p, plan); err != nil {
		t.Error(err)
	}
	if s := plan.Tasks[2].Start(); s != 65 || plan.Tasks[0].Finish() != 57 {
		t.Errorf("the follower starts at %d, the opener ends at %d, want 65 and 57", s, plan.Tasks[0].Finish())
	}
}

// TestMissedDeadlineGoesFirst: by its rule the short task would go second.
func TestMissedDeadlineGoesFirst(t *testing.T) {
	p := sched.Problem{Resources: []sched.Resource{{Capacity: 1}}, Tasks: make([]sched.Task, 2)}
	for j, minutes := range []int{30, 10} {
		p.Tasks[j].Modes = []sched.Mode{{Phases: []sched.Phase{{Minutes: minutes, Demands: []sched.Demand{{Resource: 0, Units: 1}}}}}}
	}
	p.Tasks[1].Deadline = new(15)
	plan, err := sched.Serial(context.Background(), p, sched.LongestTime)
	if err != nil || plan.Tasks == nil || plan.Tasks[1].Finish() != 10 {
		t.Errorf("Serial = %+v, %v", plan, err)
	}
}
