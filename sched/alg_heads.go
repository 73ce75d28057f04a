package sched

import "context"

// headLimit bounds the updates of heads, for rings of lags and calendars that
// gain a few minutes a turn. Heads are valid lower bounds wherever they stop.
func headLimit(tasks int) int { return 100_000 + 200*tasks }

// heads is, for each task, the earliest start and finish that calendars and lags
// alone allow, as if it had every resource to itself: the longest path of the
// project network (Kelley, "Critical-path planning and scheduling: mathematical
// basis", Operations Research 9, 1961), with each arc's length read from the
// calendars and maximum lags as arcs back (Bartusch, Möhring & Radermacher,
// "Scheduling project networks with resource constraints and time windows",
// Annals of Operations Research 16, 1988). Of several modes the earliest counts.
type heads struct {
	start, finish []int
	firstUse      [][]int // by task and resource: earliest start of a phase that demands it; far: none
	why           []Constraint
	from          []int // task that pushed this one to its head last, -1: none
}

// findHeads propagates until nothing moves. Where some task cannot finish in
// time it returns the constraints that show it.
func (e *engine) findHeads(ctx context.Context) (*heads, []Constraint, error) {
	n := len(e.p.Tasks)
	h := &heads{
		start: make([]int, n), finish: make([]int, n), firstUse: make([][]int, n),
		why: make([]Constraint, n), from: make([]int, n),
	}
	lo, loEnd := make([]int, n), make([]int, n)
	queued := make([]bool, n)
	queue := e.order()
	for j := range n {
		lo[j], loEnd[j], queued[j] = max(0, e.p.Tasks[j].Release), 0, true
		h.why[j] = constraintOf(ReleaseTime)
		h.why[j].Task, h.from[j] = j, -1
	}
	var s room
	for updates := 0; len(queue) > 0; updates++ {
		if updates%1024 == 0 && ctx.Err() != nil {
			return nil, nil, ctx.Err()
		}
		if updates > headLimit(n) {
			break
		}
		j := queue[0]
		queue, queued[j] = queue[1:], false
		if last, ok := e.head(h, j, lo[j], loEnd[j], &s); !ok {
			return nil, append(last, e.chain(h, j)...), nil
		}
		for _, l := range e.lagsOf[j] {
			lag := e.p.Lags[l]
			if !e.binds(lag) {
				continue
			}
			fromFinish, toFinish := lag.Kind.sides()
			push := func(i int, finish bool, to int, kind ConstraintKind) {
				bound := &lo[i]
				if finish {
					bound = &loEnd[i]
				}
				if to <= *bound {
					return
				}
				*bound = to
				h.why[i], h.from[i] = constraintOf(kind), j
				h.why[i].Lag = l
				if !queued[i] {
					queue, queued[i] = append(queue, i), true
				}
			}
			if lag.From == j {
				push(lag.To, toFinish, h.moment(j, fromFinish)+lag.Min, LagMin)
			} else if lag.Max != nil {
				push(lag.From, fromFinish, h.moment(j, toFinish)-*lag.Max, LagMax)
			}
		}
	}
	return h, nil, nil
}

func (h *heads) moment(j int, finish bool) int {
	if finish {
		return h.finish[j]
	}
	return h.start[j]
}

// head places task j alone in each of its modes and keeps the earliest moments.
// It is false, with the constraints of the task itself, where none is in time.
func (e *engine) head(h *heads, j, lo, loEnd int, s *room) ([]Constraint, bool) {
	h.start[j], h.finish[j] = far, far
	first := make([]int, len(e.p.Resources))
	for r := range first {
		first[r] = far
	}
	var own []Constraint
	for m := range e.modes[j] {
		mode := &e.modes[j][m]
		if !mode.usable {
			continue
		}
		if !e.fit(e.empty, mode, lo, loEnd, s) {
			c := constraintOf(HorizonTime)
			c.Task = j
			own = append(own, c)
			continue
		}
		n := len(mode.phases)
		if d := e.p.Tasks[j].Deadline; d != nil && s.end[n-1] > *d {
			c := constraintOf(DeadlineTime)
			c.Task = j
			own = append(own, c)
			continue
		}
		h.start[j] = min(h.start[j], s.start[0])
		h.finish[j] = min(h.finish[j], s.end[n-1])
		for k := range mode.phases {
			for _, d := range mode.phases[k].demands {
				first[d.Resource] = min(first[d.Resource], s.start[k])
			}
		}
	}
	h.firstUse[j] = first
	return dedupe(own), h.start[j] < far
}

// chain lists the constraints that pushed task j to its head, from j backwards,
// until a release or a task seen before: then they form a ring.
func (e *engine) chain(h *heads, j int) []Constraint {
	var list []Constraint
	seen := make([]bool, len(h.from))
	for ; j >= 0 && !seen[j]; j = h.from[j] {
		seen[j] = true
		if h.why[j].Kind == ReleaseTime && e.p.Tasks[j].Release == 0 {
			break // starting at the beginning explains nothing
		}
		list = append(list, h.why[j])
	}
	return list
}

// dedupe drops constraints listed before.
func dedupe(list []Constraint) []Constraint {
	var kept []Constraint
	for _, c := range list {
		found := false
		for _, k := range kept {
			found = found || k == c
		}
		if !found {
			kept = append(kept, c)
		}
	}
	return kept
}

// stockShort names the consumables of which even the most sparing modes need
// more than there is.
func (e *engine) stockShort() []Constraint {
	need := make([]int, len(e.p.Resources))
	for j := range e.modes {
		for r, units := range e.leastStock(j) {
			need[r] += units
		}
	}
	var list []Constraint
	for r, res := range e.p.Resources {
		if res.Kind == Consumable && need[r] > res.Capacity {
			c := constraintOf(StockUse)
			c.Resource = r
			list = append(list, c)
		}
	}
	return list
}

// leastStock is, by resource, what the task draws at least in a usable mode.
func (e *engine) leastStock(j int) []int {
	least := make([]int, len(e.p.Resources))
	first := true
	for m := range e.modes[j] {
		if !e.modes[j][m].usable {
			continue
		}
		draws := make([]int, len(least))
		for _, d := range e.modes[j][m].stock {
			draws[d.Resource] = d.Units
		}
		for r := range least {
			if first {
				least[r] = draws[r]
			} else {
				least[r] = min(least[r], draws[r])
			}
		}
		first = false
	}
	return least
}
