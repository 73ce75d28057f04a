package sched

import (
	"context"
	"fmt"
	"slices"
)

// Serial builds one plan by serial schedule generation: task after task, chosen
// by the rule, each in the mode and at the place where it finishes first beside
// those placed before (Kolisch, "Serial and parallel resource-constrained
// project scheduling methods revisited", European Journal of Operational
// Research 90, 1996). Tasks that a maximum lag ties to one placed come next, so
// that they lie as a block; where such a window is missed the task that opened
// it is taken out with all placed since and comes back later (Franck, Neumann &
// Schwindt, "Truncated branch-and-bound, schedule-construction, and
// schedule-improvement procedures for resource-constrained project scheduling",
// OR Spektrum 23, 2001). Where a deadline is missed the task and those before it
// move to the front. Both are bounded by retryLimit.
//
// The error is a problem that is not valid, a rule that is not known or a
// context that ended; everything else is in the plan's Status. A plan whose
// makespan meets the lower bound is Optimal. With placements the plan passes
// Check.
func Serial(ctx context.Context, p Problem, rule Rule) (Plan, error) {
	e, h, plan, err := begin(ctx, p)
	if err != nil || plan.Status == Infeasible {
		return plan, err
	}
	key, err := e.keys(rule, h)
	if err != nil {
		return Plan{}, err
	}
	return e.decode(ctx, key, nil, plan.Bound)
}

// BestSerial runs Serial with every rule and returns the shortest plan, the
// earlier rule's where two are equal, with the placements of all runs counted.
func BestSerial(ctx context.Context, p Problem) (Plan, error) {
	e, h, best, err := begin(ctx, p)
	if err != nil || best.Status == Infeasible {
		return best, err
	}
	count := 0
	for _, rule := range Rules() {
		key, err := e.keys(rule, h)
		if err != nil {
			return Plan{}, err
		}
		plan, err := e.decode(ctx, key, nil, best.Bound)
		if err != nil {
			return Plan{}, err
		}
		count += plan.Placements
		if plan.Status == Infeasible || plan.Tasks != nil && (best.Tasks == nil || plan.Makespan < best.Makespan) {
			best = plan
		}
		if best.Status == Optimal || best.Status == Infeasible {
			break
		}
	}
	best.Placements = count
	return best, nil
}

// List is a plan in the form searches vary: an order and, where wanted, modes.
type List struct {
	Order []int // every task once
	Modes []int // a mode a task; nil: the decoder chooses
	// Unbounded leaves the lower bound away, which takes longer than one plan does:
	// for who builds many. Bound is then 0, and no plan is called Optimal or
	// Infeasible because of it.
	Unbounded bool
}

// DecodeList builds the plan that serial generation gives for a list. A task
// that the order puts before one it must follow waits for that one. The error
// and the plan are as in Serial; where Modes are given and overdraw a stock, the
// plan is Unknown, since others might do.
func DecodeList(ctx context.Context, p Problem, list List) (Plan, error) {
	e, plan, err := compiled(ctx, p, list.Unbounded)
	if err != nil {
		return plan, err
	}
	n := len(p.Tasks)
	if len(list.Order) != n {
		return Plan{}, fmt.Errorf("the order has %d tasks, the problem %d", len(list.Order), n)
	}
	key := make([]int, n)
	for j := range key {
		key[j] = -1
	}
	for i, j := range list.Order {
		if j < 0 || j >= n || key[j] >= 0 {
			return Plan{}, fmt.Errorf("the order's entry %d, task %d, is not a task once", i, j)
		}
		key[j] = i
	}
	if list.Modes != nil {
		if len(list.Modes) != n {
			return Plan{}, fmt.Errorf("there are %d modes for %d tasks", len(list.Modes), n)
		}
		for j, m := range list.Modes {
			if m < 0 || m >= len(p.Tasks[j].Modes) {
				return Plan{}, fmt.Errorf("task %d has no mode %d", j, m)
			}
		}
	}
	if plan.Status == Infeasible {
		return plan, nil
	}
	return e.decode(ctx, key, list.Modes, plan.Bound)
}

// compiled is begin, without a bound where none is wanted.
func compiled(ctx context.Context, p Problem, unbounded bool) (*engine, Plan, error) {
	if !unbounded {
		e, _, plan, err := begin(ctx, p)
		return e, plan, err
	}
	if err := p.Validate(); err != nil {
		return nil, Plan{}, fmt.Errorf("problem: %w", err)
	}
	return newEngine(p), Plan{}, nil
}

// begin validates, compiles and bounds; its plan is Unknown with the bound, or
// Infeasible.
func begin(ctx context.Context, p Problem) (*engine, *heads, Plan, error) {
	if err := p.Validate(); err != nil {
		return nil, nil, Plan{}, fmt.Errorf("problem: %w", err)
	}
	e := newEngine(p)
	bound, h, because, err := e.lowerBound(ctx)
	if err != nil {
		return nil, nil, Plan{}, err
	}
	if because != nil {
		return e, nil, Plan{Status: Infeasible, Because: because}, nil
	}
	return e, h, Plan{Bound: bound}, nil
}

// retryLimit bounds how often tasks are taken out again, by the number of tasks.
func retryLimit(tasks int) int { return 100 + 5*tasks }

// decode runs the generation to its end. Post: a plan with placements passes
// Check.
func (e *engine) decode(ctx context.Context, key, modes []int, bound int) (Plan, error) {
	d := newDecoder(e, key, modes)
	plan := Plan{Bound: bound}
	for retries := 0; len(d.seq) < len(e.p.Tasks); {
		if err := ctx.Err(); err != nil {
			return Plan{}, err
		}
		j := d.next()
		miss := d.put(j)
		if miss == nil {
			continue
		}
		retries++
		switch {
		case retries > retryLimit(len(e.p.Tasks)):
			return d.unknown(plan), nil
		case miss.stock:
			if d.only != nil {
				return d.unknown(plan), nil // these modes were given, or found, and do not do
			}
			found, none := e.stockModes()
			if none {
				plan.Status, plan.Because, plan.Placements = Infeasible, e.stocks(), d.count
				return plan, nil
			}
			if found == nil {
				return d.unknown(plan), nil
			}
			d.rollback(0)
			d.only = found
		case len(miss.blame) > 0:
			d.delay(miss.blame)
		case !d.promote(j):
			return d.unknown(plan), nil
		}
	}
	plan.Status, plan.Placements = Feasible, d.count
	plan.Tasks = make([]Placement, len(e.p.Tasks))
	for j := range plan.Tasks {
		plan.Tasks[j] = e.placement(j, d.mode[j], d.start[j], d.end[j])
		plan.Makespan = max(plan.Makespan, plan.Tasks[j].Finish())
	}
	if plan.Makespan == plan.Bound {
		plan.Status = Optimal
	}
	return plan, nil
}

// stocks lists the stock of every consumable.
func (e *engine) stocks() []Constraint {
	var list []Constraint
	for r, res := range e.p.Resources {
		if res.Kind == Consumable {
			c := constraintOf(StockUse)
			c.Resource = r
			list = append(list, c)
		}
	}
	return list
}

// decoder is a partial plan and what failed attempts taught.
type decoder struct {
	e          *engine
	key        []int // smaller first
	only       []int // the mode to take, nil: any
	use        []profile
	spare      []int   // stock not drawn and not needed at least by tasks to come
	least      [][]int // by task and resource, least stock
	windows    [][]int // lags by which a placed task can bound this one from above
	seq        []int   // tasks placed, in order
	at         []int   // position in seq, -1: not placed
	mode       []int
	start, end [][]int
	lo, loEnd  []int // delays: least start, least finish
	front      []int // how often promoted, larger first
	fronts     int
	count      int
	s          room
}

func newDecoder(e *engine, key, only []int) *decoder {
	n := len(e.p.Tasks)
	d := &decoder{
		e: e, key: key, only: only, use: make([]profile, len(e.p.Resources)),
		spare: make([]int, len(e.p.Resources)), least: make([][]int, n), windows: make([][]int, n),
		at: make([]int, n), mode: make([]int, n), start: make([][]int, n), end: make([][]int, n),
		lo: make([]int, n), loEnd: make([]int, n), front: make([]int, n),
	}
	for r := range d.use {
		d.use[r] = newProfile()
		d.spare[r] = e.p.Resources[r].Capacity
	}
	for j := range n {
		d.at[j] = -1
		d.least[j] = e.leastStock(j)
		for r, units := range d.least[j] {
			d.spare[r] -= units
		}
		for _, l := range e.lagsOf[j] {
			if lag := e.p.Lags[l]; lag.To == j && lag.Max != nil || lag.From == j && lag.Min < 0 {
				d.windows[j] = append(d.windows[j], l)
			}
		}
	}
	return d
}

// next chooses among the tasks whose predecessors are placed, or where a ring of
// lags leaves none, among all: first those in a window, the one that closes
// first; then by promotion, key, priority, index.
func (d *decoder) next() int {
	best, bestRank := -1, [4]int{}
	for _, free := range []bool{true, false} {
		for j := range d.at {
			if d.at[j] >= 0 || free && !d.free(j) {
				continue
			}
			rank := [4]int{d.windowEnd(j), -d.front[j], d.key[j], -d.e.p.Tasks[j].Priority}
			if best < 0 || slices.Compare(rank[:], bestRank[:]) < 0 {
				best, bestRank = j, rank
			}
		}
		if best >= 0 {
			break
		}
	}
	return best
}

func (d *decoder) free(j int) bool {
	for _, i := range d.e.before[j] {
		if d.at[i] < 0 {
			return false
		}
	}
	return true
}

// windowEnd is the latest start that tasks placed leave to j, far where they
// leave it any. A lag of some modes only counts, so that its window is tried.
func (d *decoder) windowEnd(j int) int {
	end := far
	for _, l := range d.windows[j] {
		lag := d.e.p.Lags[l]
		fromFinish, toFinish := lag.Kind.sides()
		var limit int
		var finish bool
		if lag.To == j {
			if d.at[lag.From] < 0 {
				continue
			}
			limit, finish = d.moment(lag.From, fromFinish)+*lag.Max, toFinish
		} else {
			if d.at[lag.To] < 0 {
				continue
			}
			limit, finish = d.moment(lag.To, toFinish)-lag.Min, fromFinish
		}
		if finish {
			limit -= d.e.leastSpan(j)
		}
		end = min(end, limit)
	}
	return end
}

// moment is the start or finish of a task placed.
func (d *decoder) moment(j int, finish bool) int {
	if finish {
		return d.end[j][len(d.end[j])-1]
	}
	return d.start[j][0]
}

// delay raises what the tasks blamed must not be before, and takes out the first
// of them placed and all after it.
func (d *decoder) delay(blame []blamed) {
	first := len(d.seq)
	for _, b := range blame {
		if b.finish {
			d.loEnd[b.task] = max(d.loEnd[b.task], b.least)
		} else {
			d.lo[b.task] = max(d.lo[b.task], b.least)
		}
		first = min(first, d.at[b.task])
	}
	d.rollback(first)
}

// promote puts a task that was late, and all it comes after, in front, takes
// everything out and forgets the delays. It is false where that was the last
// thing done for this very task and cannot help again.
func (d *decoder) promote(j int) bool {
	if d.fronts > 0 && d.front[j] == d.fronts {
		return false
	}
	d.rollback(0)
	d.fronts++
	list := []int{j}
	for d.front[j] = d.fronts; len(list) > 0; list = list[1:] {
		for _, i := range d.e.before[list[0]] {
			if d.front[i] < d.fronts {
				d.front[i] = d.fronts
				list = append(list, i)
			}
		}
	}
	clear(d.lo)
	clear(d.loEnd)
	return true
}

// rollback takes out all tasks from a position of seq on.
func (d *decoder) rollback(to int) {
	for _, j := range d.seq[to:] {
		m := &d.e.modes[j][d.mode[j]]
		d.e.reserve(d.use, m, d.start[j], d.end[j], -1)
		d.draw(j, m, +1)
		d.at[j] = -1
	}
	d.seq = d.seq[:to]
}

// draw takes the stock of a mode, or with sign +1 puts it back.
func (d *decoder) draw(j int, m *engineMode, sign int) {
	for r, units := range d.least[j] {
		d.spare[r] -= sign * units
	}
	for _, s := range m.stock {
		d.spare[s.Resource] += sign * s.Units
	}
}

func (d *decoder) unknown(plan Plan) Plan {
	plan.Status, plan.Placements = Unknown, d.count
	return plan
}
