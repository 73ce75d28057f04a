package calendar

import (
	"slices"

	"scalewright/model"
	"scalewright/sched"
	"scalewright/stock"
)

// board collects the tasks, resources and lags of the plan. Tasks come out by
// the same index as in the problem.
type board struct {
	Input
	problem  sched.Problem
	tasks    []Task
	printers map[string]int // resource by printer id
	people   []int          // resource by person
	byID     map[string]int // task by id
}

func newBoard(in Input, offset int) (*board, error) {
	b := &board{Input: in, printers: map[string]int{}, byID: map[string]int{}}
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
		b.problem.Resources = append(b.problem.Resources, sched.Resource{Name: person.Name, Capacity: 1, Calendar: open})
	}
	return b, nil
}

func (b *board) fill() {
	for i, piece := range b.Division.Pieces {
		b.print(piece, b.Prints[i])
	}
	if b.Core != nil {
		b.add(Task{ID: "saw.core", Kind: KindSaw, Name: "saw the core"}, b.byHand(StepSaw, sawMinutes, 0))
	}
	last := map[string]string{} // seam glued last, of the body ("") and of each part with a line of its own
	for _, s := range b.Division.Seams {
		above, _ := b.Division.Piece(s.Above)
		line := ""
		if above.Own {
			line = s.Above.Part
		}
		last[line] = b.join(s, last[line], !above.Own || above.OnCore)
	}
}

// print is load, run at any hour, and clear; the printer is held throughout.
func (b *board) print(piece model.Piece, p model.Print) {
	printer := b.printers[p.Printer]
	var modes []sched.Mode
	for _, person := range b.people {
		hand := sched.Demand{Resource: person, Units: 1}
		held := sched.Demand{Resource: printer, Units: 1, Keep: true}
		modes = append(modes, sched.Mode{
			Name: b.problem.Resources[person].Name,
			Phases: []sched.Phase{
				{Name: StepLoad, Minutes: loadMinutes, Demands: []sched.Demand{hand, held}},
				{Name: StepRun, Minutes: int(p.Minutes), Work: sched.Elapsed, Demands: []sched.Demand{held}, MaxWait: new(0)},
				{Name: StepClear, Minutes: clearMinutes, Demands: []sched.Demand{hand, {Resource: printer, Units: 1}}},
			},
		})
	}
	b.add(Task{
		ID: "print." + piece.ID.String(), Kind: KindPrint, Name: "print " + piece.Name,
		Piece: piece.ID.String(), Printer: p.Printer, Bench: loadMinutes + clearMinutes,
	}, modes)
}

// join glues a seam, with the collar and the core ring that belong to it, once
// its pieces are printed and the seam below on the same line has set.
func (b *board) join(s model.Seam, last string, onCore bool) string {
	id := "join." + s.ID
	name, minutes, cure := "glue "+b.name(s.Below)+" to "+b.name(s.Above), glueMinutes, int(stock.GlueFor(s.Glue).Cure)
	if s.Removable {
		name, minutes, cure = "fit "+b.name(s.Below)+" to "+b.name(s.Above), fitMinutes, 0
	}
	b.add(Task{ID: id, Kind: KindJoin, Name: name}, b.byHand(StepJoin, minutes, cure))
	for _, piece := range b.Division.Pieces {
		p := piece.ID
		// The collar and the ring on it; below the first seam, the core's own ring.
		with := p.Kind != model.Shell && (foot(p) == foot(s.Above) || foot(p) == foot(s.Below))
		if p == s.Below || p == s.Above || with {
			b.after("print."+p.String(), id)
		}
	}
	if onCore {
		b.after("saw.core", id)
	}
	b.after(last, id)
	return id
}

// foot names the end of a shell that a collar or ring belongs to.
func foot(id model.PieceID) [2]string { return [2]string{id.Part, id.From} }

func (b *board) name(id model.PieceID) string {
	p, _ := b.Division.Piece(id)
	return p.Name
}

// byHand is hand work by any one person, and a cure that takes nobody.
func (b *board) byHand(name string, minutes, cure int) []sched.Mode {
	var modes []sched.Mode
	for _, person := range b.people {
		phases := []sched.Phase{{Name: name, Minutes: minutes, Demands: []sched.Demand{{Resource: person, Units: 1}}}}
		if cure > 0 {
			phases = append(phases, sched.Phase{Name: StepCure, Minutes: cure, Work: sched.Elapsed, MaxWait: new(0)})
		}
		modes = append(modes, sched.Mode{Name: b.problem.Resources[person].Name, Phases: phases})
	}
	return modes
}

// add puts a task on the board unless the log says it is done.
func (b *board) add(t Task, modes []sched.Mode) {
	if slices.Contains(b.Done, t.ID) {
		return
	}
	if t.Bench == 0 {
		t.Bench = minutesOf(modes[0].Phases[0])
	}
	b.byID[t.ID] = len(b.tasks)
	b.tasks = append(b.tasks, t)
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
