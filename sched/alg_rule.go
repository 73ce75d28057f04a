package sched

import "fmt"

// Rule says which of the tasks that could be placed next is.
type Rule int

// The rules, after Kolisch, "Efficient priority rules for the
// resource-constrained project scheduling problem", Journal of Operations
// Management 14 (1996), and Alvarez-Valdes & Tamarit (1989) for the rank weight.
// Ties go to the larger Task.Priority, then to the smaller index.
const (
	LatestFinish   Rule = iota // earliest of the latest finishes first
	LatestStart                // earliest of the latest starts first
	MostSuccessors             // most tasks after it, directly or not
	GreatestRank               // most minutes in it and its direct successors
	ShortestTime               // fewest minutes first
	LongestTime                // most minutes first
	ByPriority                 // largest Task.Priority first
)

// Rules lists every rule.
func Rules() []Rule {
	return []Rule{LatestFinish, LatestStart, MostSuccessors, GreatestRank, ShortestTime, LongestTime, ByPriority}
}

// String names the rule in words.
func (r Rule) String() string {
	names := [...]string{
		"latest finish", "latest start", "most successors", "greatest rank", "shortest time", "longest time", "priority",
	}
	if r < 0 || int(r) >= len(names) {
		return fmt.Sprintf("rule %d", int(r))
	}
	return names[r]
}

// keys gives each task a number, smaller first, by a rule.
func (e *engine) keys(rule Rule, h *heads) ([]int, error) {
	n := len(e.p.Tasks)
	key := make([]int, n)
	switch rule {
	case LatestFinish, LatestStart:
		start, finish := e.latest(h)
		if rule == LatestStart {
			return start, nil
		}
		return finish, nil
	case MostSuccessors:
		for j, count := range e.successors() {
			key[j] = -count
		}
	case GreatestRank:
		for j := range n {
			key[j] = -e.leastSpan(j)
			for _, i := range e.after[j] {
				key[j] -= e.leastSpan(i)
			}
		}
	case ShortestTime, LongestTime:
		for j := range n {
			key[j] = e.leastSpan(j)
			if rule == LongestTime {
				key[j] = -key[j]
			}
		}
	case ByPriority:
		// The tie-breaker alone decides.
	default:
		return nil, fmt.Errorf("unknown rule %d", int(rule))
	}
	return key, nil
}

// latest is the backward pass of the critical path: the latest start and finish
// of each task for a plan that ends at the largest head, resources aside. Only an
// order is wanted of it, so rings of lags are cut where order does, and a task
// that calendars leave no room for takes its bare minutes.
func (e *engine) latest(h *heads) (start, finish []int) {
	n := len(e.p.Tasks)
	start, finish = make([]int, n), make([]int, n)
	end := 0
	for j := range n {
		end = max(end, h.finish[j])
	}
	for j := range n {
		start[j], finish[j] = far, end
		if d := e.p.Tasks[j].Deadline; d != nil {
			finish[j] = min(end, *d)
		}
	}
	order := e.order()
	for k := n - 1; k >= 0; k-- {
		j := order[k]
		for _, l := range e.lagsOf[j] {
			lag := e.p.Lags[l]
			if lag.From != j || !e.binds(lag) || start[lag.To] == far {
				continue
			}
			fromFinish, toFinish := lag.Kind.sides()
			limit := start[lag.To] - lag.Min
			if toFinish {
				limit = finish[lag.To] - lag.Min
			}
			if fromFinish {
				finish[j] = min(finish[j], limit)
			} else {
				start[j] = min(start[j], limit)
			}
		}
		begin := -far
		for m := range e.modes[j] {
			if e.modes[j][m].usable {
				begin = max(begin, e.modes[j][m].latestStart(finish[j]))
			}
		}
		start[j] = min(start[j], begin)
	}
	return start, finish
}

// latestStart is where the mode starts at the latest to finish by the minute
// given, waits and other tasks aside.
func (m *engineMode) latestStart(finish int) int {
	t := finish
	for k := len(m.phases) - 1; k >= 0; k-- {
		t = m.phases[k].latestStart(t)
	}
	return t
}

func (ph *enginePhase) latestStart(end int) int {
	bare := end - ph.minutes
	if ph.cal == nil || ph.minutes == 0 {
		return bare
	}
	i := ph.cal.after(end)
	if i == len(ph.cal.open) || ph.cal.open[i].Start >= end {
		i--
	}
	left := ph.minutes
	for ; i >= 0; i-- {
		iv := ph.cal.open[i]
		stretch := min(end, iv.End) - iv.Start
		if stretch >= left {
			return min(end, iv.End) - left
		}
		if ph.work == Splittable {
			left -= stretch
		}
	}
	return bare
}

// successors counts the tasks after each, directly or not.
func (e *engine) successors() []int {
	n := len(e.p.Tasks)
	words := (n + 63) / 64
	reach := make([][]uint64, n)
	for j := range n {
		reach[j] = make([]uint64, words)
	}
	count := make([]int, n)
	order := e.order()
	for k := n - 1; k >= 0; k-- {
		j := order[k]
		for _, i := range e.after[j] {
			reach[j][i/64] |= 1 << (i % 64)
			for w := range words {
				reach[j][w] |= reach[i][w]
			}
		}
		for i := range n {
			if i != j && reach[j][i/64]>>(i%64)&1 == 1 {
				count[j]++
			}
		}
	}
	return count
}
