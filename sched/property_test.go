package sched_test

import (
	"context"
	"runtime"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"scalewright/sched"
)

// TestAgainstBruteForce holds every claim of a plan to the truth on problems
// small enough to try everything: phases, calendars, waits, kept resources,
// modes, stocks, windows, deadlines.
func TestAgainstBruteForce(t *testing.T) {
	statuses := map[sched.Status]int{}
	holds := func(t *rapid.T) {
		p := drawProblem(t, kinds{
			tasks: 3, phases: 2, modes: 2, minutes: 2, units: 2, horizon: 9, lags: 3,
			calendars: true, windows: true, stock: true, kept: true, deadlines: true, release: true, work: true, zeroes: true,
		})
		if err := p.Validate(); err != nil {
			t.Fatalf("the drawn problem is not valid: %v", err)
		}
		best, exists := bruteForce(p)
		for _, rule := range []sched.Rule{sched.LatestFinish, sched.LongestTime} {
			plan, err := sched.Serial(context.Background(), p, rule)
			if err != nil {
				t.Fatal(err)
			}
			statuses[plan.Status]++
			switch {
			case plan.Status == sched.Infeasible:
				if exists {
					t.Fatalf("called infeasible because of %v; the optimum is %d", plan.Because, best)
				}
				if len(plan.Because) == 0 {
					t.Fatal("infeasible for no reason")
				}
				continue
			case plan.Tasks == nil:
				if plan.Status != sched.Unknown {
					t.Fatalf("no placements, and %v", plan.Status)
				}
				continue
			}
			if err := sched.Check(p, plan); err != nil {
				t.Fatalf("Check = %v", err)
			}
			if !exists || plan.Makespan < best {
				t.Fatalf("makespan %d, the optimum is %d (%v)", plan.Makespan, best, exists)
			}
			if plan.Bound > best {
				t.Fatalf("bound %d is over the optimum %d", plan.Bound, best)
			}
			if plan.Status == sched.Optimal && plan.Makespan != best {
				t.Fatalf("%d called optimal, the optimum is %d", plan.Makespan, best)
			}
		}
	}
	wanted := []sched.Status{sched.Feasible, sched.Optimal, sched.Infeasible}
	missing := func(s sched.Status) bool { return statuses[s] == 0 }
	for range 10 { // one time in a hundred, a hundred draws show no plan that is only feasible
		if rapid.Check(t, holds); !slices.ContainsFunc(wanted, missing) {
			break
		}
	}
	t.Logf("statuses: %v", statuses)
	for _, s := range wanted {
		if missing(s) {
			t.Errorf("no problem drawn was %v: the test shows less than it should", s)
		}
	}
}

// TestOneTaskIsPlacedFirst: a task put beside others that are pinned lies
// earliest in every phase at once, so its finish is the least there is. This is
// the claim on which alg_fit.go rests.
func TestOneTaskIsPlacedFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const horizon = 12
		p := drawProblem(t, kinds{
			tasks: 1, phases: 3, modes: 1, minutes: 3, units: 2, horizon: horizon,
			calendars: true, kept: true, release: true, work: true, zeroes: true,
		})
		for range rapid.IntRange(0, 2).Draw(t, "pinned") {
			start := rapid.IntRange(0, horizon-1).Draw(t, "at")
			minutes := rapid.IntRange(1, min(3, horizon-start)).Draw(t, "for")
			p.Tasks = append(p.Tasks, sched.Task{
				Release: start, Deadline: new(start + minutes), Modes: []sched.Mode{{Phases: []sched.Phase{{
					Minutes: minutes, Work: sched.Elapsed, Demands: []sched.Demand{{Resource: 0, Units: 1}},
				}}}},
			})
		}
		order := make([]int, len(p.Tasks)) // the free task, number 0, last
		for i := range order {
			order[i] = (i + 1) % len(order)
		}
		plan, err := sched.DecodeList(context.Background(), p, sched.List{Order: order})
		if err != nil {
			t.Fatal(err)
		}
		q := p // the free task's own finish as the makespan
		best, exists := horizon+1, false
		for _, pl := range placements(p, 0, horizon) {
			trial := sched.Plan{Tasks: []sched.Placement{pl}, Makespan: pl.Finish()}
			for _, pinned := range p.Tasks[1:] {
				iv := sched.Interval{Start: pinned.Release, End: *pinned.Deadline}
				trial.Tasks = append(trial.Tasks, sched.Placement{Phases: []sched.Span{{Start: iv.Start, End: iv.End, Work: []sched.Interval{iv}}}})
				trial.Makespan = max(trial.Makespan, iv.End)
			}
			if pl.Finish() < best && sched.Check(q, trial) == nil {
				best, exists = pl.Finish(), true
			}
		}
		switch {
		case plan.Tasks == nil && exists:
			t.Fatalf("%v, and a plan finishes the task at %d", plan.Status, best)
		case plan.Tasks != nil && (!exists || plan.Tasks[0].Finish() != best):
			t.Fatalf("finishes at %d, least is %d (%v)", plan.Tasks[0].Finish(), best, exists)
		}
	})
}

// TestSerialHasTheOptimum: over all orders, serial generation finds the optimum
// of a regular measure without calendars (Kolisch 1996, theorem 1, after
// Sprecher, Kolisch & Drexl 1995: it generates all active schedules).
func TestSerialHasTheOptimum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t, kinds{tasks: 4, phases: 1, modes: 1, minutes: 3, units: 3, horizon: 12, lags: 3, release: true})
		for i := range p.Lags {
			p.Lags[i].Kind, p.Lags[i].Min = sched.FinishStart, 0
		}
		best, exists := bruteForce(p)
		got := 0
		permutations(len(p.Tasks), func(order []int) {
			plan, err := sched.DecodeList(context.Background(), p, sched.List{Order: order})
			if err != nil {
				t.Fatal(err)
			}
			if plan.Tasks != nil && (got == 0 || plan.Makespan < got) {
				got = plan.Makespan
			}
		})
		if exists != (got > 0) || exists && got != best {
			t.Fatalf("best of all orders is %d, the optimum %d (%v)", got, best, exists)
		}
	})
}

func permutations(n int, f func([]int)) {
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	var turn func(k int)
	turn = func(k int) {
		if k == n {
			f(order)
			return
		}
		for i := k; i < n; i++ {
			order[k], order[i] = order[i], order[k]
			turn(k + 1)
			order[k], order[i] = order[i], order[k]
		}
	}
	turn(0)
}

// TestShiftIsCaught: without windows a serial plan is active, no phase of it can
// start earlier with the rest where it is. So every earlier start is a mutant,
// and the checker must catch each.
func TestShiftIsCaught(t *testing.T) {
	mutants := 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t, kinds{
			tasks: 6, phases: 3, modes: 2, minutes: 4, units: 2, horizon: 90, lags: 5,
			calendars: true, kept: true, release: true, work: true, zeroes: true,
		})
		plan, err := sched.Serial(context.Background(), p, sched.MostSuccessors)
		if err != nil || plan.Tasks == nil {
			return
		}
		if err := sched.Check(p, plan); err != nil {
			t.Fatalf("Check = %v", err)
		}
		for j, pl := range plan.Tasks {
			for k, span := range pl.Phases {
				for s := max(0, span.Start-3); s < span.Start; s++ {
					moved, ok := spanFrom(p, p.Tasks[j].Modes[pl.Mode].Phases[k], s, p.Horizon)
					if !ok {
						continue
					}
					mutants++
					pl.Phases[k] = moved
					trial := plan
					trial.Makespan = 0
					for _, each := range plan.Tasks {
						trial.Makespan = max(trial.Makespan, each.Finish())
					}
					if sched.Check(p, trial) == nil {
						t.Fatalf("task %d, phase %d starts at %d and could at %d", j, k, span.Start, s)
					}
				}
				pl.Phases[k] = span
			}
		}
	})
	if t.Logf("%d mutants", mutants); mutants == 0 {
		t.Error("no mutant was tried")
	}
}

// TestLargerPlansPass: whatever is drawn, a plan passes the checker.
func TestLargerPlansPass(t *testing.T) {
	planned, tried := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t, kinds{
			tasks: 14, phases: 4, modes: 3, minutes: 9, units: 3, horizon: 200, lags: 10,
			calendars: true, windows: true, kept: true, release: true, work: true, zeroes: true,
		})
		tried++
		plan, err := sched.BestSerial(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		if plan.Tasks == nil {
			return
		}
		planned++
		if err := sched.Check(p, plan); err != nil {
			t.Fatalf("Check = %v", err)
		}
	})
	t.Logf("%d of %d planned", planned, tried)
	if planned < tried/4 {
		t.Errorf("only %d of %d problems were planned: the test shows less than it should", planned, tried)
	}
}

// TestSameAtAnyCores: one core or eight, the same plan.
func TestSameAtAnyCores(t *testing.T) {
	p := workshop(60)
	var plans []sched.Plan
	for _, cores := range []int{1, 8} {
		old := runtime.GOMAXPROCS(cores)
		plan, err := sched.BestSerial(context.Background(), p)
		runtime.GOMAXPROCS(old)
		if err != nil {
			t.Fatal(err)
		}
		plans = append(plans, plan)
	}
	if diff := cmp.Diff(plans[0], plans[1]); diff != "" {
		t.Errorf("1 core and 8 differ:\n%s", diff)
	}
}
