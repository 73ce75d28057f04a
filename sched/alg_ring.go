package sched

import "slices"

// arc says that one moment lies at least so many minutes after another. Moments
// are numbered 2*task for a start and 2*task+1 for a finish.
type arc struct {
	from, to, least int
	why             Constraint
}

// arcs is what lags and spans demand whatever calendars and resources say: a
// finish lies at least the least minutes after its start, and at most the most
// where no pause or free wait can stretch them.
func (e *engine) arcs() []arc {
	var list []arc
	for j := range e.p.Tasks {
		c := constraintOf(PhaseMinutes)
		c.Task = j
		list = append(list, arc{2 * j, 2*j + 1, e.leastSpan(j), c})
		if most := e.mostSpan(j); most < far {
			list = append(list, arc{2*j + 1, 2 * j, -most, c})
		}
	}
	for l, lag := range e.p.Lags {
		if !e.binds(lag) {
			continue
		}
		fromFinish, toFinish := lag.Kind.sides()
		from, to := 2*lag.From, 2*lag.To
		if fromFinish {
			from++
		}
		if toFinish {
			to++
		}
		c := constraintOf(LagMin)
		c.Lag = l
		list = append(list, arc{from, to, lag.Min, c})
		if lag.Max != nil {
			c.Kind = LagMax
			list = append(list, arc{to, from, -*lag.Max, c})
		}
	}
	return list
}

// mostSpan is the clock minutes from start to finish in the longest mode, far
// where nothing bounds them.
func (e *engine) mostSpan(j int) int {
	most := 0
	for m := range e.modes[j] {
		if !e.modes[j][m].usable {
			continue
		}
		span := 0
		for k, ph := range e.modes[j][m].phases {
			if ph.work == Splittable && ph.cal != nil || k > 0 && ph.wait == far {
				return far
			}
			span += ph.minutes
			if k > 0 {
				span += ph.wait
			}
		}
		most = max(most, span)
	}
	return most
}

// ring looks for arcs that lead from a moment back to itself with minutes to
// spare, so that it would have to lie after itself, and returns their
// constraints. It is the cycle test of Bellman (1958) and Ford (1956) for
// longest paths: without such a ring, paths have at most as many arcs as there
// are moments, and nothing moves in a further round.
//
// The heads would find the same, but a minute a turn, up to the horizon.
func (e *engine) ring() []Constraint {
	arcs := e.arcs()
	moments := 2 * len(e.p.Tasks)
	at := make([]int, moments)
	by := make([]int, moments) // arc that moved the moment last
	last := -1
	for range moments + 1 {
		last = -1
		for i, a := range arcs {
			if t := at[a.from] + a.least; t > at[a.to] {
				at[a.to], by[a.to], last = t, i, a.to
			}
		}
		if last < 0 {
			return nil
		}
	}
	for range moments { // back far enough to be on the ring and not on a way to it
		last = arcs[by[last]].from
	}
	var list []Constraint
	for m := last; ; {
		a := arcs[by[m]]
		list = append(list, a.why)
		if m = a.from; m == last {
			break
		}
	}
	slices.Reverse(list)
	return dedupe(list)
}
