package sched

import (
	"math"
	"slices"
)

// far is later than any minute and survives a sum or two.
const far = math.MaxInt / 4

// engine is a problem in the form the algorithms read: demands sorted by kind,
// calendars intersected, lags listed by task.
type engine struct {
	p       Problem
	horizon int
	modes   [][]engineMode
	lagsOf  [][]int // lags that touch a task
	before  [][]int // tasks a task is placed after
	after   [][]int // the same arcs, from the other end
	empty   []profile
}

type engineMode struct {
	phases []enginePhase
	stock  []Demand // of consumables, summed over the phases, by resource
	// short is a constraint that rules the mode out by itself; only where !usable.
	usable bool
	short  Constraint
}

type enginePhase struct {
	minutes int
	work    Work
	wait    int // most minutes after the phase before
	cal     *Calendar
	demands []Demand // of renewables, with units
}

func newEngine(p Problem) *engine {
	n := len(p.Tasks)
	e := &engine{
		p: p, horizon: p.horizon(),
		modes: make([][]engineMode, n), lagsOf: make([][]int, n),
		before: make([][]int, n), after: make([][]int, n),
		empty: make([]profile, len(p.Resources)),
	}
	for r := range e.empty {
		e.empty[r] = newProfile()
	}
	joint := jointCalendars{}
	for j, t := range p.Tasks {
		for _, m := range t.Modes {
			e.modes[j] = append(e.modes[j], e.compile(j, m, joint))
		}
	}
	for l, lag := range p.Lags {
		e.lagsOf[lag.From] = append(e.lagsOf[lag.From], l)
		e.lagsOf[lag.To] = append(e.lagsOf[lag.To], l)
		// A negative Min allows either order; it is a window, not a precedence.
		if lag.Min >= 0 {
			e.before[lag.To] = append(e.before[lag.To], lag.From)
			e.after[lag.From] = append(e.after[lag.From], lag.To)
		}
	}
	return e
}

// jointCalendars keeps each intersection once: most phases share few sets.
type jointCalendars map[[2]*Calendar]*Calendar

func (k jointCalendars) intersect(a, b *Calendar) *Calendar {
	if a == nil || b == nil || a == b {
		return Intersect(a, b)
	}
	c, ok := k[[2]*Calendar{a, b}]
	if !ok {
		c = Intersect(a, b)
		k[[2]*Calendar{a, b}] = c
	}
	return c
}

func (e *engine) compile(task int, m Mode, joint jointCalendars) engineMode {
	em := engineMode{usable: true}
	rule := func(kind ConstraintKind, phase, resource int) {
		if em.usable {
			em.usable, em.short = false, Constraint{kind, task, phase, -1, resource}
		}
	}
	stock := make([]int, len(e.p.Resources))
	for k, ph := range m.Phases {
		ep := enginePhase{minutes: ph.Minutes, work: ph.Work, wait: far}
		if ph.MaxWait != nil {
			ep.wait = *ph.MaxWait
		}
		for _, d := range ph.Demands {
			res := e.p.Resources[d.Resource]
			switch {
			case d.Units == 0:
			case res.Kind == Consumable:
				stock[d.Resource] += d.Units
			default:
				ep.demands = append(ep.demands, d)
				if ph.Work != Elapsed {
					ep.cal = joint.intersect(ep.cal, res.Calendar)
				}
				if d.Units > res.Capacity && ph.Minutes > 0 {
					rule(CapacityUse, k, d.Resource)
				}
			}
		}
		if _, _, ok := ep.open(0); !ok && ph.Minutes > 0 {
			rule(ClosedTime, k, -1)
		}
		em.phases = append(em.phases, ep)
	}
	for r, units := range stock {
		if units > 0 {
			em.stock = append(em.stock, Demand{Resource: r, Units: units})
			if units > e.p.Resources[r].Capacity {
				rule(StockUse, -1, r)
			}
		}
	}
	return em
}

// unusable is what rules out each of the task's modes, nil where one is left.
func (e *engine) unusable(j int) []Constraint {
	var own []Constraint
	for m := range e.modes[j] {
		if e.modes[j][m].usable {
			return nil
		}
		own = append(own, e.modes[j][m].short)
	}
	return dedupe(own)
}

// binds reports whether a lag binds whatever the modes of its tasks are.
func (e *engine) binds(lag Lag) bool {
	return coversAll(lag.FromModes, len(e.p.Tasks[lag.From].Modes)) && coversAll(lag.ToModes, len(e.p.Tasks[lag.To].Modes))
}

func coversAll(list []int, modes int) bool {
	if list == nil {
		return true
	}
	for m := range modes {
		if !slices.Contains(list, m) {
			return false
		}
	}
	return true
}

// sides tells which moments a kind of lag lies between: the finish of From,
// else its start; the finish of To, else its start.
func (k LagKind) sides() (fromFinish, toFinish bool) {
	return k == FinishStart || k == FinishFinish, k == StartFinish || k == FinishFinish
}

// order lists the tasks so that each comes after those it is placed after, as
// far as lags allow: where they close a ring, the smallest index goes first.
func (e *engine) order() []int {
	n := len(e.p.Tasks)
	waits := make([]int, n)
	for j := range n {
		waits[j] = len(e.before[j])
	}
	done := make([]bool, n)
	list := make([]int, 0, n)
	take := func(j int) {
		done[j] = true
		list = append(list, j)
		for _, i := range e.after[j] {
			waits[i]--
		}
	}
	for head := 0; len(list) < n; {
		if head == len(list) { // nothing newly free: look for a start, else break a ring
			first := -1
			for j := range n {
				if !done[j] && (first < 0 || waits[j] == 0 && waits[first] > 0) {
					first = j
				}
			}
			take(first)
		}
		for _, i := range e.after[list[head]] {
			if waits[i] == 0 && !done[i] {
				take(i)
			}
		}
		head++
	}
	return list
}
