package sched_test

import (
	"pgregory.net/rapid"

	"scalewright/sched"
)

// This file holds the slow twin of the solver: it walks minutes and tries every
// placement, and knows nothing of profiles, heads or calendars' sums.

// openAt reports whether a phase may be worked in a minute, interval by interval.
func openAt(p sched.Problem, ph sched.Phase, minute int) bool {
	for _, d := range ph.Demands {
		cal := p.Resources[d.Resource].Calendar
		if cal == nil || d.Units == 0 || ph.Work == sched.Elapsed {
			continue
		}
		inside := false
		for _, iv := range cal.Intervals() {
			inside = inside || iv.Start <= minute && minute < iv.End
		}
		if !inside {
			return false
		}
	}
	return true
}

// spanFrom works a phase from a start, minute by minute; ok is false where it
// may not start there or does not end by the horizon.
func spanFrom(p sched.Problem, ph sched.Phase, start, horizon int) (span sched.Span, ok bool) {
	span = sched.Span{Start: start, End: start}
	for left, m := ph.Minutes, start; left > 0; m++ {
		if m >= horizon {
			return span, false
		}
		if !openAt(p, ph, m) {
			if m == start || ph.Work != sched.Splittable {
				return span, false
			}
			continue
		}
		if n := len(span.Work); n > 0 && span.Work[n-1].End == m {
			span.Work[n-1].End++
		} else {
			span.Work = append(span.Work, sched.Interval{Start: m, End: m + 1})
		}
		left--
		span.End = m + 1
	}
	return span, span.End <= horizon
}

// placements lists every way to place a task by itself, waits kept.
func placements(p sched.Problem, j, horizon int) []sched.Placement {
	var list []sched.Placement
	for m, mode := range p.Tasks[j].Modes {
		var extend func(spans []sched.Span, k, from int)
		extend = func(spans []sched.Span, k, from int) {
			if k == len(mode.Phases) {
				list = append(list, sched.Placement{Mode: m, Phases: append([]sched.Span(nil), spans...)})
				return
			}
			last := horizon
			if w := mode.Phases[k].MaxWait; w != nil {
				last = min(last, from+*w)
			}
			for s := from; s <= last; s++ {
				if span, ok := spanFrom(p, mode.Phases[k], s, horizon); ok {
					extend(append(spans, span), k+1, span.End)
				}
			}
		}
		extend(nil, 0, p.Tasks[j].Release)
	}
	return list
}

// bruteForce is the least makespan over every combination of placements that the
// checker lets pass; ok is false where none does.
func bruteForce(p sched.Problem) (best int, ok bool) {
	ways := make([][]sched.Placement, len(p.Tasks))
	for j := range p.Tasks {
		ways[j] = placements(p, j, p.Horizon)
	}
	plan := sched.Plan{Tasks: make([]sched.Placement, len(p.Tasks))}
	var try func(j, last int)
	try = func(j, last int) {
		if ok && last >= best {
			return
		}
		if j == len(p.Tasks) {
			plan.Makespan = last
			if sched.Check(p, plan) == nil {
				best, ok = last, true
			}
			return
		}
		for _, pl := range ways[j] {
			plan.Tasks[j] = pl
			try(j+1, max(last, pl.Finish()))
		}
	}
	try(0, 0)
	return best, ok
}

// kinds is what a drawn problem may contain.
type kinds struct {
	tasks, phases, modes, minutes    int
	calendars, windows, stock, kept  bool
	horizon                          int
	lags, units                      int
	deadlines, release, work, zeroes bool
}

// drawProblem draws a problem within bounds; it is always valid.
func drawProblem(t *rapid.T, k kinds) sched.Problem {
	p := sched.Problem{Horizon: k.horizon}
	resources := rapid.IntRange(1, 2).Draw(t, "resources")
	for range resources {
		r := sched.Resource{Capacity: rapid.IntRange(1, k.units).Draw(t, "capacity")}
		if k.calendars && rapid.Bool().Draw(t, "hours") {
			r.Calendar = drawHours(t, k.horizon)
		}
		p.Resources = append(p.Resources, r)
	}
	if k.stock {
		p.Resources = append(p.Resources, sched.Resource{Kind: sched.Consumable, Capacity: rapid.IntRange(1, 6).Draw(t, "stock")})
	}
	for range rapid.IntRange(1, k.tasks).Draw(t, "tasks") {
		p.Tasks = append(p.Tasks, drawTask(t, k, p, resources))
	}
	for range rapid.IntRange(0, k.lags).Draw(t, "lags") {
		if lag, ok := drawLag(t, k, p); ok {
			p.Lags = append(p.Lags, lag)
		}
	}
	return p
}

// drawHours is a calendar that is open more than closed.
func drawHours(t *rapid.T, horizon int) *sched.Calendar {
	var open []sched.Interval
	for m := rapid.IntRange(0, 2).Draw(t, "opening"); m < horizon; {
		end := m + rapid.IntRange(1, 5).Draw(t, "stretch")
		open = append(open, sched.Interval{Start: m, End: min(end, horizon)})
		m = end + rapid.IntRange(1, 3).Draw(t, "pause")
	}
	return sched.NewCalendar(open...)
}

func drawTask(t *rapid.T, k kinds, p sched.Problem, resources int) sched.Task {
	var task sched.Task
	if k.release {
		task.Release = rapid.IntRange(0, 3).Draw(t, "release")
	}
	if k.deadlines && rapid.IntRange(0, 3).Draw(t, "due") == 0 {
		task.Deadline = new(rapid.IntRange(4, k.horizon).Draw(t, "deadline"))
	}
	for range rapid.IntRange(1, k.modes).Draw(t, "modes") {
		var m sched.Mode
		n := rapid.IntRange(1, k.phases).Draw(t, "phases")
		for i := range n {
			least := 1
			if k.zeroes {
				least = 0
			}
			ph := sched.Phase{Minutes: rapid.IntRange(least, k.minutes).Draw(t, "minutes")}
			if k.work {
				ph.Work = rapid.SampledFrom([]sched.Work{sched.Unbroken, sched.Splittable, sched.Elapsed}).Draw(t, "work")
			}
			if i > 0 && rapid.Bool().Draw(t, "hurry") {
				ph.MaxWait = new(rapid.IntRange(0, 2).Draw(t, "wait"))
			}
			for r := range resources {
				if units := rapid.IntRange(0, p.Resources[r].Capacity).Draw(t, "units"); units > 0 {
					keep := k.kept && i < n-1 && rapid.Bool().Draw(t, "keep")
					ph.Demands = append(ph.Demands, sched.Demand{Resource: r, Units: units, Keep: keep})
				}
			}
			if k.stock {
				ph.Demands = append(ph.Demands, sched.Demand{Resource: resources, Units: rapid.IntRange(0, 2).Draw(t, "draw")})
			}
			m.Phases = append(m.Phases, ph)
		}
		task.Modes = append(task.Modes, m)
	}
	return task
}

func drawLag(t *rapid.T, k kinds, p sched.Problem) (sched.Lag, bool) {
	from := rapid.IntRange(0, len(p.Tasks)-1).Draw(t, "from")
	to := rapid.IntRange(0, len(p.Tasks)-1).Draw(t, "to")
	if from == to || !k.windows && from > to {
		return sched.Lag{}, false
	}
	lag := sched.Lag{From: from, To: to, Kind: sched.LagKind(rapid.IntRange(0, 3).Draw(t, "kind"))}
	if !k.windows {
		lag.Min = rapid.IntRange(0, 2).Draw(t, "min")
		return lag, true
	}
	lag.Min = rapid.IntRange(-3, 2).Draw(t, "min")
	if rapid.Bool().Draw(t, "bounded") {
		lag.Max = new(lag.Min + rapid.IntRange(0, 4).Draw(t, "slack"))
	}
	if n := len(p.Tasks[to].Modes); n > 1 && rapid.Bool().Draw(t, "of a mode") {
		lag.ToModes = []int{rapid.IntRange(0, n-1).Draw(t, "mode")}
	}
	return lag, true
}
