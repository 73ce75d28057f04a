package sched

import (
	"context"
	"fmt"
)

// LowerBound returns a minute before which no plan of the problem can end, or,
// where it can show that there is no plan at all, the constraints that cannot
// hold together. It is the larger of
//
//   - the critical path with calendars and both kinds of lag, each task alone;
//   - for each renewable resource, the earliest head of its users, the time its
//     units need at least for all their work in its open hours, and the least
//     tail after them.
//
// For machines that do one thing at a time the second is the classic head, load
// and tail bound (Carlier, "The one-machine sequencing problem", European
// Journal of Operational Research 11, 1982, for the set of all operations).
func LowerBound(ctx context.Context, p Problem) (int, []Constraint, error) {
	if err := p.Validate(); err != nil {
		return 0, nil, fmt.Errorf("problem: %w", err)
	}
	e := newEngine(p)
	bound, _, because, err := e.lowerBound(ctx)
	return bound, because, err
}

// lowerBound also returns the heads, which rules use again.
func (e *engine) lowerBound(ctx context.Context) (int, *heads, []Constraint, error) {
	for j := range e.modes {
		if own := e.unusable(j); own != nil {
			return 0, nil, own, nil
		}
	}
	if ring := e.ring(); ring != nil {
		return 0, nil, ring, nil
	}
	h, because, err := e.findHeads(ctx)
	if err != nil || because != nil {
		return 0, nil, because, err
	}
	if short := e.stockShort(); short != nil {
		return 0, nil, short, nil
	}
	bound := 0
	for j := range e.p.Tasks {
		bound = max(bound, h.finish[j])
	}
	tails := e.tails()
	for r := range e.p.Resources {
		if e.p.Resources[r].Kind != Renewable {
			continue
		}
		b, ok := e.loadBound(h, tails, r)
		if !ok || b > e.horizon {
			return 0, nil, []Constraint{{CapacityUse, -1, -1, -1, r}, {HorizonTime, -1, -1, -1, -1}}, nil
		}
		bound = max(bound, b)
	}
	return bound, h, nil, nil
}

// tails is, for each task, clock minutes that at least pass between its finish
// and the end of the plan. Only lags from its finish count, and of the tasks
// after it the bare minutes: calendars can but lengthen them. Where a ring of
// lags would go on for ever it stops after as many rounds as there are tasks,
// and what it has then is still true.
func (e *engine) tails() []int {
	n := len(e.p.Tasks)
	tail := make([]int, n)
	order := e.order()
	for range n {
		moved := false
		for k := n - 1; k >= 0; k-- {
			j := order[k]
			for _, l := range e.lagsOf[j] {
				lag := e.p.Lags[l]
				fromFinish, toFinish := lag.Kind.sides()
				if lag.From != j || !fromFinish || !e.binds(lag) {
					continue
				}
				t := lag.Min + tail[lag.To]
				if !toFinish {
					t += e.leastSpan(lag.To)
				}
				if t > tail[j] {
					tail[j], moved = t, true
				}
			}
		}
		if !moved {
			break
		}
	}
	return tail
}

// leastSpan is the clock minutes from start to finish in the shortest mode.
func (e *engine) leastSpan(j int) int {
	least := far
	for m := range e.modes[j] {
		if e.modes[j][m].usable {
			least = min(least, e.modes[j][m].minutes())
		}
	}
	return least
}

func (m *engineMode) minutes() int {
	sum := 0
	for k := range m.phases {
		sum += m.phases[k].minutes
	}
	return sum
}

// loadBound is the head, load and tail bound of one resource; ok is false where
// its calendar has not the minutes.
func (e *engine) loadBound(h *heads, tails []int, r int) (bound int, ok bool) {
	capacity, cal := e.p.Resources[r].Capacity, e.p.Resources[r].Calendar
	head, tail := far, far
	gated, all := 0, 0 // unit-minutes in open time, and at any time
	for j := range e.modes {
		if h.firstUse[j][r] == far {
			continue
		}
		g, a, after := e.leastLoad(j, r)
		if a == 0 {
			continue // some mode does without
		}
		head = min(head, h.firstUse[j][r])
		tail = min(tail, after+tails[j])
		gated += g
		all += a
	}
	if all == 0 {
		return 0, true
	}
	end := head + (all+capacity-1)/capacity
	if gated > 0 {
		t, enough := cal.Clock(cal.Work(head) + (gated+capacity-1)/capacity)
		if !enough {
			return 0, false
		}
		end = max(end, t)
	}
	return end + tail, true
}

// leastLoad is what task j takes of resource r in unit-minutes at least, in open
// time and in all, and the least minutes of its phases after the last that does.
func (e *engine) leastLoad(j, r int) (gated, all, after int) {
	gated, all, after = far, far, far
	for m := range e.modes[j] {
		mode := &e.modes[j][m]
		if !mode.usable {
			continue
		}
		g, a, rest := 0, 0, 0
		for k := range mode.phases {
			ph := &mode.phases[k]
			rest += ph.minutes
			for _, d := range ph.demands {
				if d.Resource != r || ph.minutes == 0 {
					continue
				}
				rest = 0
				a += d.Units * ph.minutes
				if ph.work != Elapsed {
					g += d.Units * ph.minutes
				}
			}
		}
		gated, all, after = min(gated, g), min(all, a), min(after, rest)
	}
	return gated, all, after
}
