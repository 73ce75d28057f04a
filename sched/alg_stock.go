package sched

import "slices"

// stockNodes bounds the search for modes that the stock allows.
const stockNodes = 200_000

// stockModes looks for one mode a task such that no consumable is overdrawn, by
// depth-first search: tasks in order, modes from the most sparing, cut where the
// tasks to come need more than is left even at their least. none is true where
// the search ended without finding any: then there is no plan. Both are zero
// where the limit stopped it.
func (e *engine) stockModes() (modes []int, none bool) {
	n := len(e.p.Tasks)
	spare := make([]int, len(e.p.Resources))
	for r := range spare {
		spare[r] = e.p.Resources[r].Capacity
	}
	least, choice := make([][]int, n), make([][]int, n)
	for j := range n {
		least[j] = e.leastStock(j)
		for r, units := range least[j] {
			spare[r] -= units
		}
		for m := range e.modes[j] {
			if e.modes[j][m].usable {
				choice[j] = append(choice[j], m)
			}
		}
		slices.SortStableFunc(choice[j], func(a, b int) int { return e.thirst(j, a) - e.thirst(j, b) })
	}
	modes = make([]int, n)
	nodes := 0
	var dig func(j int) (found, stopped bool)
	dig = func(j int) (found, stopped bool) {
		if j == n {
			return true, false
		}
		if nodes++; nodes > stockNodes {
			return false, true
		}
	next:
		for _, m := range choice[j] {
			for _, d := range e.modes[j][m].stock {
				if d.Units-least[j][d.Resource] > spare[d.Resource] {
					continue next
				}
			}
			e.spend(spare, least[j], j, m, 1)
			modes[j] = m
			if found, stopped = dig(j + 1); found || stopped {
				return found, stopped
			}
			e.spend(spare, least[j], j, m, -1)
		}
		return false, false
	}
	found, stopped := dig(0)
	switch {
	case found:
		return modes, false
	case stopped:
		return nil, false
	}
	return nil, true
}

// spend takes a mode's draw beyond the least off what is spare, or puts it back.
func (e *engine) spend(spare, least []int, j, m, sign int) {
	for r, units := range least {
		spare[r] += sign * units
	}
	for _, d := range e.modes[j][m].stock {
		spare[d.Resource] -= sign * d.Units
	}
}

// thirst compares modes: units drawn in millionths of their stocks, summed.
func (e *engine) thirst(j, m int) int {
	sum := 0
	for _, d := range e.modes[j][m].stock {
		sum += d.Units * 1_000_000 / max(1, e.p.Resources[d.Resource].Capacity)
	}
	return sum
}
