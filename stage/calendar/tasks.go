package calendar

import (
	"slices"

	"scalewright/model"
	"scalewright/sched"
	"scalewright/unit"
)

// board collects the tasks, resources and lags of the plan. Tasks come out by
// the same index as in the problem.
type board struct {
	Input
	problem  sched.Problem
	tasks    []Task
	spread   []spread                 // of each task's hands
	printers map[string]int           // resource by printer id
	people   []int                    // resource by person
	hours    map[int][]sched.Interval // of people, by resource
	spray    int                      // resource
	byID     map[string]int           // task by id
	pace     map[model.TaskKind]pace
}

func newBoard(in Input, offset int) (*board, error) {
	b := &board{Input: in, printers: map[string]int{}, byID: map[string]int{}, hours: map[int][]sched.Interval{}, pace: paces(in)}
	b.problem.Horizon = horizonWeeks * sched.Week
	for _, p := range in.Printers {
		b.printers[p.ID] = len(b.problem.Resources)
		b.problem.Resources = append(b.problem.Resources, sched.Resource{Name: p.Name, Capacity: 1})
	}
	for _, person := range in.People {
		week := sched.Weekly{Offset: offset, Horizon: b.problem.Horizon}
		for _, o := range person.Hours {
			week.Hours = append(week.Hours, sched.Interval{Start: int(o.From), End: int(o.To)})
		}
		open, err := week.Calendar()
		if err != nil {
			return nil, err
		}
		b.people = append(b.people, len(b.problem.Resources))
		b.hours[len(b.problem.Resources)] = open.Intervals()
		b.problem.Resources = append(b.problem.Resources, sched.Resource{Name: person.Name, Capacity: 1, Calendar: open})
	}
	b.spray = len(b.problem.Resources)
	b.problem.Resources = append(b.problem.Resources, sched.Resource{Name: "spraying place", Capacity: 1})
	return b, nil
}

func (b *board) fill() {
	for i, piece := range b.Division.Pieces {
		b.print(piece, b.Prints[i])
	}
	for _, t := range b.Tasks {
		b.work(t)
	}
	for _, t := range b.Tasks {
		for _, first := range t.After {
			b.after(first, t.ID)
		}
	}
	if ring := b.ring(); ring != "" {
		panic("calendar: internal error: " + ring + " waits for itself")
	}
}

// ring is a task that waits for itself by way of others; empty when none does.
// Tasks come from several stages, and none of them sees all waits.
func (b *board) ring() string {
	waits := make([]int, len(b.tasks))
	next := make([][]int, len(b.tasks))
	for _, l := range b.problem.Lags {
		waits[l.To]++
		next[l.From] = append(next[l.From], l.To)
	}
	var free []int
	for i, n := range waits {
		if n == 0 {
			free = append(free, i)
		}
	}
	for k := 0; k < len(free); k++ {
		for _, i := range next[free[k]] {
			if waits[i]--; waits[i] == 0 {
				free = append(free, i)
			}
		}
	}
	for i, n := range waits {
		if n > 0 {
			return b.tasks[i].ID
		}
	}
	return ""
}

// print is load, run at any hour, and clear; the printer is held throughout.
func (b *board) print(piece model.Piece, p model.Print) {
	b.add(Task{
		ID: model.PrintTask(piece.ID), Kind: KindPrint, Name: "print " + piece.Name,
		Piece: piece.ID.String(), Printer: p.Printer, Bench: loadMinutes + clearMinutes,
	}, b.byAnyone(func(person int) []sched.Phase {
		return attempt(person, b.printers[p.Printer], int(p.Minutes))
	}), printSpread(p))
}

// attempt is one run of a printer from loading to clearing.
func attempt(person, printer, minutes int) []sched.Phase {
	hand := sched.Demand{Resource: person, Units: 1}
	held := sched.Demand{Resource: printer, Units: 1, Keep: true}
	return []sched.Phase{
		{Name: StepLoad, Minutes: loadMinutes, Demands: []sched.Demand{hand, held}},
		{Name: StepRun, Minutes: minutes, Work: sched.Elapsed, Demands: []sched.Demand{held}, MaxWait: new(0)},
		{Name: StepClear, Minutes: clearMinutes, Demands: []sched.Demand{hand, {Resource: printer, Units: 1}}},
	}
}

// work is hands of any one person, at the pace that the log knows, and a cure that
// takes nobody. What is sprayed keeps its place until it is dry.
func (b *board) work(t model.Task) {
	hands := max(1, b.pace[t.Kind].of(t.Bench))
	b.add(
		Task{ID: t.ID, Kind: string(t.Kind), Name: t.Name, Piece: t.Piece, Bench: hands},
		b.byAnyone(func(person int) []sched.Phase { return b.byHand(t, person, int(hands)) }),
		b.handSpread(t),
	)
}

func (b *board) byHand(t model.Task, person, minutes int) []sched.Phase {
	hand := sched.Phase{Name: string(t.Kind), Minutes: minutes, Demands: []sched.Demand{{Resource: person, Units: 1}}}
	if splits(t.Kind) {
		hand.Work = sched.Splittable
	}
	if t.Spray {
		hand.Demands = append(hand.Demands, sched.Demand{Resource: b.spray, Units: 1, Keep: t.Cure > 0})
	}
	if t.Cure <= 0 {
		return []sched.Phase{hand}
	}
	cure := sched.Phase{Name: StepCure, Minutes: int(t.Cure), Work: sched.Elapsed, MaxWait: new(0)}
	if t.Spray {
		cure.Demands = []sched.Demand{{Resource: b.spray, Units: 1}}
	}
	return []sched.Phase{hand, cure}
}

// splits reports whether work of a kind may be put down for the night and taken
// up again.
func splits(k model.TaskKind) bool {
	return k == model.Sand || k == model.Fill || k == model.Solder || k == model.Draw
}

// byAnyone is a mode for each person.
func (b *board) byAnyone(phases func(person int) []sched.Phase) []sched.Mode {
	var modes []sched.Mode
	for _, person := range b.people {
		modes = append(modes, sched.Mode{Name: b.problem.Resources[person].Name, Phases: phases(person)})
	}
	return modes
}

// add puts a task on the board unless the log says it is done.
func (b *board) add(t Task, modes []sched.Mode, s spread) {
	if slices.Contains(b.Done, t.ID) {
		return
	}
	b.byID[t.ID] = len(b.tasks)
	b.tasks = append(b.tasks, t)
	b.spread = append(b.spread, s)
	b.problem.Tasks = append(b.problem.Tasks, sched.Task{Name: t.Name, Modes: modes})
}

// after makes one task wait for another, where both are still to be done.
func (b *board) after(first, then string) {
	f, ok := b.byID[first]
	t, also := b.byID[then]
	if ok && also {
		b.problem.Lags = append(b.problem.Lags, sched.Lag{From: f, To: t, Kind: sched.FinishStart})
	}
}

// bench is all hands on the board.
func (b *board) bench() unit.Minutes {
	sum := unit.Minutes(0)
	for _, t := range b.tasks {
		sum += t.Bench
	}
	return sum
}
