package sched

import "fmt"

// Largest numbers taken, so that sums of a plausible problem cannot overflow.
const (
	maxMinute = 1 << 30 // two thousand years
	maxUnits  = 1 << 20
)

// Validate reports the first thing in the problem that has no meaning: an index
// that points nowhere, a negative length. Every solver calls it. A problem that
// is valid may still be infeasible.
func (p Problem) Validate() error {
	if p.Horizon < 0 || p.Horizon > maxMinute {
		return fmt.Errorf("horizon %d lies outside 0 to %d", p.Horizon, maxMinute)
	}
	for r, res := range p.Resources {
		if err := res.validate(); err != nil {
			return fmt.Errorf("resource %d (%s): %w", r, res.Name, err)
		}
	}
	for j, t := range p.Tasks {
		if err := p.validateTask(t); err != nil {
			return fmt.Errorf("task %d (%s): %w", j, t.Name, err)
		}
	}
	for l, lag := range p.Lags {
		if err := p.validateLag(lag); err != nil {
			return fmt.Errorf("lag %d: %w", l, err)
		}
	}
	return nil
}

func (r Resource) validate() error {
	if r.Kind != Renewable && r.Kind != Consumable {
		return fmt.Errorf("unknown kind %d", r.Kind)
	}
	if r.Capacity < 0 || r.Capacity > maxUnits {
		return fmt.Errorf("capacity %d lies outside 0 to %d", r.Capacity, maxUnits)
	}
	if r.Kind == Consumable && r.Calendar != nil {
		return fmt.Errorf("a consumable has no calendar")
	}
	if c := r.Calendar; c != nil && len(c.open) > 0 {
		if c.open[0].Start < -maxMinute || c.End() > maxMinute {
			return fmt.Errorf("the calendar reaches beyond minute %d", maxMinute)
		}
	}
	return nil
}

func (p Problem) validateTask(t Task) error {
	if len(t.Modes) == 0 {
		return fmt.Errorf("no mode")
	}
	if t.Release < 0 || t.Release > maxMinute {
		return fmt.Errorf("release %d lies outside 0 to %d", t.Release, maxMinute)
	}
	if t.Deadline != nil && (*t.Deadline < 0 || *t.Deadline > maxMinute) {
		return fmt.Errorf("deadline %d lies outside 0 to %d", *t.Deadline, maxMinute)
	}
	for m, mode := range t.Modes {
		if len(mode.Phases) == 0 {
			return fmt.Errorf("mode %d (%s): no phase", m, mode.Name)
		}
		for k, ph := range mode.Phases {
			if err := p.validatePhase(ph, k, len(mode.Phases)); err != nil {
				return fmt.Errorf("mode %d (%s), phase %d (%s): %w", m, mode.Name, k, ph.Name, err)
			}
		}
	}
	return nil
}

func (p Problem) validatePhase(ph Phase, k, n int) error {
	if ph.Minutes < 0 || ph.Minutes > maxMinute {
		return fmt.Errorf("%d minutes lie outside 0 to %d", ph.Minutes, maxMinute)
	}
	if ph.Work < Unbroken || ph.Work > Elapsed {
		return fmt.Errorf("unknown way of working %d", ph.Work)
	}
	if ph.MaxWait != nil {
		if k == 0 {
			return fmt.Errorf("the first phase waits for none: no MaxWait")
		}
		if *ph.MaxWait < 0 || *ph.MaxWait > maxMinute {
			return fmt.Errorf("wait %d lies outside 0 to %d", *ph.MaxWait, maxMinute)
		}
	}
	seen := map[int]bool{}
	for _, d := range ph.Demands {
		if d.Resource < 0 || d.Resource >= len(p.Resources) {
			return fmt.Errorf("there is no resource %d", d.Resource)
		}
		if seen[d.Resource] {
			return fmt.Errorf("resource %d is demanded twice", d.Resource)
		}
		seen[d.Resource] = true
		if d.Units < 0 || d.Units > maxUnits {
			return fmt.Errorf("%d units lie outside 0 to %d", d.Units, maxUnits)
		}
		if d.Keep && k == n-1 {
			return fmt.Errorf("the last phase keeps resource %d for no other", d.Resource)
		}
		if d.Keep && p.Resources[d.Resource].Kind == Consumable {
			return fmt.Errorf("consumable %d cannot be kept", d.Resource)
		}
	}
	return nil
}

func (p Problem) validateLag(l Lag) error {
	for _, j := range []int{l.From, l.To} {
		if j < 0 || j >= len(p.Tasks) {
			return fmt.Errorf("there is no task %d", j)
		}
	}
	if l.From == l.To {
		return fmt.Errorf("task %d to itself", l.From)
	}
	if l.Kind < FinishStart || l.Kind > FinishFinish {
		return fmt.Errorf("unknown kind %d", l.Kind)
	}
	if l.Min < -maxMinute || l.Min > maxMinute || l.Max != nil && (*l.Max < -maxMinute || *l.Max > maxMinute) {
		return fmt.Errorf("bounds lie outside ±%d", maxMinute)
	}
	for _, side := range []struct {
		modes []int
		task  int
	}{{l.FromModes, l.From}, {l.ToModes, l.To}} {
		for _, m := range side.modes {
			if m < 0 || m >= len(p.Tasks[side.task].Modes) {
				return fmt.Errorf("task %d has no mode %d", side.task, m)
			}
		}
	}
	return nil
}

// DefaultHorizon is the horizon used where the problem states none: the last
// minute of any calendar or the last release, and after it room for every phase
// and every lag end to end. After that minute nothing is gated any more, so a
// plan that ends later only idles.
func (p Problem) DefaultHorizon() int {
	last, sum := 0, 0
	for _, r := range p.Resources {
		last = max(last, r.Calendar.End())
	}
	for _, t := range p.Tasks {
		last = max(last, t.Release)
		most := 0
		for _, m := range t.Modes {
			minutes := 0
			for _, ph := range m.Phases {
				minutes += ph.Minutes
			}
			most = max(most, minutes)
		}
		sum += most
	}
	for _, l := range p.Lags {
		sum += max(l.Min, -l.Min)
		if l.Max != nil {
			sum += max(*l.Max, -*l.Max)
		}
	}
	return min(last+sum, maxMinute)
}

// horizon is the one stated or else the default.
func (p Problem) horizon() int {
	if p.Horizon > 0 {
		return p.Horizon
	}
	return p.DefaultHorizon()
}
