package sched_test

import (
	"testing"

	"pgregory.net/rapid"

	"scalewright/sched"
)

// keepsAll judges resources, stocks, lags and times of a plan minute by minute;
// the spans are taken to be right, as spanFrom makes them.
func keepsAll(p sched.Problem, plan sched.Plan) bool {
	for m := range p.Horizon {
		use := make([]int, len(p.Resources))
		for j, pl := range plan.Tasks {
			for k, span := range pl.Phases {
				for _, d := range p.Tasks[j].Modes[pl.Mode].Phases[k].Demands {
					working := false
					for _, iv := range span.Work {
						working = working || iv.Start <= m && m < iv.End
					}
					held := d.Keep && span.Start <= m && m < pl.Phases[k+1].Start
					if working || held {
						use[d.Resource] += d.Units
					}
				}
			}
		}
		for r, res := range p.Resources {
			if res.Kind == sched.Renewable && use[r] > res.Capacity {
				return false
			}
		}
	}
	drawn := make([]int, len(p.Resources))
	for j, pl := range plan.Tasks {
		for _, ph := range p.Tasks[j].Modes[pl.Mode].Phases {
			for _, d := range ph.Demands {
				drawn[d.Resource] += d.Units
			}
		}
		if d := p.Tasks[j].Deadline; d != nil && pl.Finish() > *d || pl.Start() < p.Tasks[j].Release {
			return false
		}
	}
	for r, res := range p.Resources {
		if res.Kind == sched.Consumable && drawn[r] > res.Capacity {
			return false
		}
	}
	for _, l := range p.Lags {
		from, to := plan.Tasks[l.From], plan.Tasks[l.To]
		if l.ToModes != nil && l.ToModes[0] != to.Mode {
			continue
		}
		gap := map[sched.LagKind]int{
			sched.FinishStart:  to.Start() - from.Finish(),
			sched.StartStart:   to.Start() - from.Start(),
			sched.StartFinish:  to.Finish() - from.Start(),
			sched.FinishFinish: to.Finish() - from.Finish(),
		}[l.Kind]
		if gap < l.Min || l.Max != nil && gap > *l.Max {
			return false
		}
	}
	return true
}

// TestCheckAgainstMinutes: on plans thrown together at random, good and bad, the
// checker and counting minutes agree.
func TestCheckAgainstMinutes(t *testing.T) {
	good, bad := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t, kinds{
			tasks: 3, phases: 3, modes: 2, minutes: 2, units: 3, horizon: 12, lags: 2,
			calendars: true, windows: true, stock: true, kept: true, deadlines: true, work: true, zeroes: true,
		})
		var plan sched.Plan
		for j := range p.Tasks {
			ways := placements(p, j, p.Horizon)
			if len(ways) == 0 {
				return
			}
			plan.Tasks = append(plan.Tasks, ways[rapid.IntRange(0, len(ways)-1).Draw(t, "way")])
			plan.Makespan = max(plan.Makespan, plan.Tasks[j].Finish())
		}
		err := sched.Check(p, plan)
		if want := keepsAll(p, plan); (err == nil) != want {
			t.Fatalf("Check = %v, minute by minute %v", err, want)
		}
		if err == nil {
			good++
		} else {
			bad++
		}
	})
	if t.Logf("%d good, %d bad", good, bad); good == 0 || bad == 0 {
		t.Error("one of the two was never drawn")
	}
}
