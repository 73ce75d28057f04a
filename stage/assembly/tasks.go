package assembly

import (
	"slices"

	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// joining is the task of a seam or mount; its name still lacks the two things.
func joining(id string, loose bool, glue string, hands unit.Minutes) model.Task {
	if loose {
		return model.Task{ID: model.JoinTask(id), Kind: model.Join, Name: "fit ", Bench: fitMinutes, Guess: true}
	}
	return model.Task{ID: model.JoinTask(id), Kind: model.Join, Name: "glue ", Bench: hands, Cure: stock.GlueFor(glue).Cure, Guess: true}
}

// writer turns an order into steps. What must be done before a joint shuts it in
// is done just before that joint; what is still reached when all is glued waits
// until the paint is dry.
type writer struct {
	*problem
	order  order
	wires  []wire
	groups []model.Group
	steps  []model.AssemblyStep
	last   [][]string // tasks that last changed the body of a thing, by thing
	shutBy []int      // position in the order of the joint that shuts a bay in; len: none
	before [][]int    // bays shut by the joint at a position
	late   []string   // tasks of components and wires that wait for the paint
	ends   [][2]int   // of each wire: the bay connected first and the other
	put    []bool     // bays whose component is in its place
	drawn  []bool     // wires
	loose  []bool     // wires drawn with both ends hanging
	joined []bool     // wires whose other end is connected
	tried  [][]string // tasks to try, by position
}

func (p *problem) write(o order, wires []wire) []model.AssemblyStep {
	w := writer{
		problem: p, order: o, wires: wires, groups: p.Division.Groups(p.Design.Mounts), last: make([][]string, len(p.things)),
		put: make([]bool, len(p.Places.Bays)), drawn: make([]bool, len(wires)), joined: make([]bool, len(wires)), loose: make([]bool, len(wires)),
	}
	w.foresee()
	if p.core >= 0 {
		w.add(model.AssemblyStep{Task: p.sawing(), Station: p.Design.Core.Span.From})
		w.last[p.core] = []string{model.SawCore}
	}
	glued := slices.IndexFunc(o.joints, func(k int) bool { return !p.joints[k].bonded })
	if glued < 0 {
		glued = len(o.joints)
	}
	for n := range glued {
		w.shutIn(n)
		w.join(n)
	}
	w.afterPaint()
	for n := glued; n < len(o.joints); n++ {
		w.join(n)
	}
	w.lastly()
	return w.steps
}

// foresee finds the joint that shuts each bay in and which end of each wire is
// connected last: the one that is reached longer.
func (w *writer) foresee() {
	n := len(w.order.joints)
	w.before = make([][]int, n)
	for i := range w.Places.Bays {
		at := n
		for k := range n {
			if j := w.joints[w.order.joints[k]]; j.bonded && !w.reached(i, w.order.after[k]) {
				at = k
				break
			}
		}
		w.shutBy = append(w.shutBy, at)
		if at < n {
			w.before[at] = append(w.before[at], i)
		}
	}
	until := func(bay int) int {
		if bay < 0 {
			return n + 1 // outside
		}
		return w.shutBy[bay]
	}
	for _, v := range w.wires {
		ends := v.ends
		if until(ends[0]) > until(ends[1]) {
			ends[0], ends[1] = ends[1], ends[0]
		}
		w.ends = append(w.ends, ends)
	}
}

func (w *writer) add(s model.AssemblyStep) { w.steps = append(w.steps, s) }

// printed are the tasks after which a thing lies on the bench.
func (w *writer) printed(k int) []string {
	if piece := w.things[k].piece; piece != nil {
		return []string{model.PrintTask(piece.ID), model.PrepTask(piece.ID)}
	}
	return nil
}

// ready are the tasks after which a thing may be worked on: it is printed and
// prepared, and what it is part of has set.
func (w *writer) ready(k int) []string {
	if k < 0 {
		return nil
	}
	return append(w.printed(k), w.last[k]...)
}

// sawing is to saw the core, and to drill it where cables run in and out: before
// anything is on it.
func (p *problem) sawing() model.Task {
	t := model.Task{ID: model.SawCore, Kind: model.Saw, Name: "saw the core", Bench: sawMinutes, Guess: true}
	if n := len(p.Places.CoreHoles()); n > 0 {
		t.Name, t.Bench = "saw the core and drill it for the cables", sawMinutes+drillMinutes*unit.Minutes(n)
	}
	return t
}
