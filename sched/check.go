package sched

import "slices"

import "fmt"

// Violation is a constraint a plan breaks, and how.
type Violation struct {
	Constraint
	At     int    // the minute, where one can be named
	Detail string // the constraint in names and numbers
}

// Error is the detail.
func (v *Violation) Error() string { return v.Detail }

// Check judges a plan by the definitions in the package comment and returns nil
// or a *Violation naming the first constraint broken. It is written to be slow
// and obvious and shares no code with the solver, not even the calendar's
// arithmetic: it looks at the open intervals one by one. The problem is taken to
// be valid. A plan without tasks placed (Unknown, Infeasible) is a violation of
// shape unless the problem has none.
func Check(p Problem, plan Plan) error {
	c := checker{p, plan}
	for _, step := range []func() *Violation{
		c.shape, c.phases, c.waits, c.calendars, c.capacity, c.stock, c.times, c.lags, c.makespan,
	} {
		if v := step(); v != nil {
			return v
		}
	}
	return nil
}

type checker struct {
	p    Problem
	plan Plan
}

func (c checker) violation(k Constraint, at int, format string, args ...any) *Violation {
	return &Violation{k, at, c.p.Describe(k) + ": " + fmt.Sprintf(format, args...)}
}

// phase is the phase of the problem that a span of the plan belongs to.
func (c checker) phase(task, k int) Phase {
	return c.p.Tasks[task].Modes[c.plan.Tasks[task].Mode].Phases[k]
}

func (c checker) shape() *Violation {
	k := constraintOf(PlanShape)
	if len(c.plan.Tasks) != len(c.p.Tasks) {
		return c.violation(k, 0, "%d placements for %d tasks", len(c.plan.Tasks), len(c.p.Tasks))
	}
	for j, pl := range c.plan.Tasks {
		k.Task = j
		if pl.Mode < 0 || pl.Mode >= len(c.p.Tasks[j].Modes) {
			return c.violation(k, 0, "there is no mode %d", pl.Mode)
		}
		if n := len(c.p.Tasks[j].Modes[pl.Mode].Phases); len(pl.Phases) != n {
			return c.violation(k, 0, "%d spans for %d phases", len(pl.Phases), n)
		}
	}
	return nil
}

// phases holds each span against its phase's minutes and way of working.
func (c checker) phases() *Violation {
	for j, pl := range c.plan.Tasks {
		for i, span := range pl.Phases {
			ph := c.phase(j, i)
			k := constraintOf(PhaseMinutes)
			k.Task, k.Phase = j, i
			sum := 0
			for w, iv := range span.Work {
				if iv.End <= iv.Start {
					return c.violation(k, iv.Start, "work %v is empty", iv)
				}
				if w > 0 && iv.Start <= span.Work[w-1].End {
					return c.violation(k, iv.Start, "work %v does not lie after %v", iv, span.Work[w-1])
				}
				sum += iv.End - iv.Start
			}
			if sum != ph.Minutes {
				return c.violation(k, span.Start, "%d minutes worked, %d needed", sum, ph.Minutes)
			}
			if len(span.Work) == 0 {
				if span.End != span.Start {
					return c.violation(k, span.Start, "no work from %d to %d", span.Start, span.End)
				}
				continue
			}
			if span.Work[0].Start != span.Start || span.Work[len(span.Work)-1].End != span.End {
				return c.violation(k, span.Start, "work does not begin at %d and end at %d", span.Start, span.End)
			}
			if ph.Work != Splittable && len(span.Work) != 1 {
				return c.violation(k, span.Work[0].End, "split, and may not be")
			}
		}
	}
	return nil
}

func (c checker) waits() *Violation {
	for j, pl := range c.plan.Tasks {
		for i := 1; i < len(pl.Phases); i++ {
			before, span := pl.Phases[i-1], pl.Phases[i]
			wait := span.Start - before.End
			k := constraintOf(PhaseOrder)
			k.Task, k.Phase = j, i
			if wait < 0 {
				return c.violation(k, span.Start, "starts at %d, the phase before ends at %d", span.Start, before.End)
			}
			k.Kind = PhaseWait
			if most := c.phase(j, i).MaxWait; most != nil && wait > *most {
				return c.violation(k, span.Start, "%d minutes, at most %d", wait, *most)
			}
		}
	}
	return nil
}

// calendars sees that work lies in open time and pauses in closed.
func (c checker) calendars() *Violation {
	for j, pl := range c.plan.Tasks {
		for i, span := range pl.Phases {
			ph := c.phase(j, i)
			if ph.Work == Elapsed {
				continue
			}
			k := constraintOf(ClosedTime)
			k.Task, k.Phase = j, i
			for _, d := range ph.Demands {
				cal := c.p.Resources[d.Resource].Calendar
				if cal == nil || d.Units == 0 {
					continue
				}
				for _, work := range span.Work {
					if !insideOne(work, cal.open) {
						k.Resource = d.Resource
						return c.violation(k, work.Start, "worked over %v", work)
					}
				}
			}
			k.Resource = -1
			for w := 1; w < len(span.Work); w++ {
				pause := []Interval{{span.Work[w-1].End, span.Work[w].Start}}
				for _, d := range ph.Demands {
					if cal := c.p.Resources[d.Resource].Calendar; cal != nil && d.Units > 0 {
						pause = overlaps(pause, cal.open)
					}
				}
				if len(pause) > 0 {
					return c.violation(k, pause[0].Start, "pauses over %v, which is open", pause[0])
				}
			}
		}
	}
	return nil
}

// insideOne reports whether an interval lies within a single one of a list of
// intervals that do not touch each other.
func insideOne(iv Interval, list []Interval) bool {
	for _, o := range list {
		if o.Start <= iv.Start && iv.End <= o.End {
			return true
		}
	}
	return false
}

// overlaps lists what two lists of intervals have in common.
func overlaps(a, b []Interval) []Interval {
	var both []Interval
	for _, x := range a {
		for _, y := range b {
			if s, e := max(x.Start, y.Start), min(x.End, y.End); s < e {
				both = append(both, Interval{s, e})
			}
		}
	}
	return both
}

// taken is one stretch over which units of a resource are in use.
type taken struct {
	Interval
	units, task, phase int
}

// capacity adds up the use of each renewable at every moment it can rise.
func (c checker) capacity() *Violation {
	for r, res := range c.p.Resources {
		if res.Kind != Renewable {
			continue
		}
		use := c.uses(r)
		for _, at := range use {
			if at.Start == at.End {
				continue
			}
			sum := 0
			for _, u := range use {
				if u.Start <= at.Start && at.Start < u.End {
					sum += u.units
				}
			}
			if sum > res.Capacity {
				k := constraintOf(CapacityUse)
				k.Resource, k.Task, k.Phase = r, at.task, at.phase
				return c.violation(k, at.Start, "%d units at minute %d, there are %d", sum, at.Start, res.Capacity)
			}
		}
	}
	return nil
}

func (c checker) uses(r int) []taken {
	var use []taken
	for j, pl := range c.plan.Tasks {
		for i, span := range pl.Phases {
			for _, d := range c.phase(j, i).Demands {
				switch {
				case d.Resource != r:
				case d.Keep: // until the next phase starts, pauses included
					use = append(use, taken{Interval{span.Start, pl.Phases[i+1].Start}, d.Units, j, i})
				default:
					for _, work := range span.Work {
						use = append(use, taken{work, d.Units, j, i})
					}
				}
			}
		}
	}
	return use
}

func (c checker) stock() *Violation {
	for r, res := range c.p.Resources {
		if res.Kind != Consumable {
			continue
		}
		sum := 0
		for j, pl := range c.plan.Tasks {
			for i := range pl.Phases {
				for _, d := range c.phase(j, i).Demands {
					if d.Resource == r {
						sum += d.Units
					}
				}
			}
		}
		if sum > res.Capacity {
			k := constraintOf(StockUse)
			k.Resource = r
			return c.violation(k, 0, "%d units drawn, there are %d", sum, res.Capacity)
		}
	}
	return nil
}

func (c checker) times() *Violation {
	horizon := c.p.Horizon
	if horizon == 0 {
		horizon = c.p.DefaultHorizon()
	}
	for j, pl := range c.plan.Tasks {
		t := c.p.Tasks[j]
		k := constraintOf(ReleaseTime)
		k.Task = j
		if pl.Start() < max(t.Release, 0) {
			return c.violation(k, pl.Start(), "starts at %d, released at %d", pl.Start(), t.Release)
		}
		if t.Deadline != nil && pl.Finish() > *t.Deadline {
			k.Kind = DeadlineTime
			return c.violation(k, pl.Finish(), "finishes at %d, due by %d", pl.Finish(), *t.Deadline)
		}
		if pl.Finish() > horizon {
			k.Kind = HorizonTime
			return c.violation(k, pl.Finish(), "finishes at %d, the horizon is %d", pl.Finish(), horizon)
		}
	}
	return nil
}

func (c checker) lags() *Violation {
	for l, lag := range c.p.Lags {
		from, to := c.plan.Tasks[lag.From], c.plan.Tasks[lag.To]
		if !listed(from.Mode, lag.FromModes) || !listed(to.Mode, lag.ToModes) {
			continue
		}
		var a, b int
		switch lag.Kind {
		case FinishStart:
			a, b = from.Finish(), to.Start()
		case StartStart:
			a, b = from.Start(), to.Start()
		case StartFinish:
			a, b = from.Start(), to.Finish()
		case FinishFinish:
			a, b = from.Finish(), to.Finish()
		}
		k := constraintOf(LagMin)
		k.Lag = l
		if b-a < lag.Min {
			return c.violation(k, b, "%d minutes, at least %d", b-a, lag.Min)
		}
		if lag.Max != nil && b-a > *lag.Max {
			k.Kind = LagMax
			return c.violation(k, b, "%d minutes, at most %d", b-a, *lag.Max)
		}
	}
	return nil
}

// listed reports whether a mode is in a list, of which nil means all.
func listed(mode int, modes []int) bool {
	if modes == nil {
		return true
	}
	return slices.Contains(modes, mode)
}

func (c checker) makespan() *Violation {
	last := 0
	for _, pl := range c.plan.Tasks {
		last = max(last, pl.Finish())
	}
	if c.plan.Makespan != last {
		return c.violation(constraintOf(MakespanSaid), last, "%d stated, the last task finishes at %d", c.plan.Makespan, last)
	}
	return nil
}
