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
	joined []bool     // wires whose other end is connected
	tried  [][]string // tasks to try, by position
}

func (p *problem) write(o order, wires []wire) []model.AssemblyStep {
	w := writer{
		problem: p, order: o, wires: wires, groups: p.Division.Groups(p.Design.Mounts), last: make([][]string, len(p.things)),
		put: make([]bool, len(p.Places.Bays)), drawn: make([]bool, len(wires)), joined: make([]bool, len(wires)),
	}
	w.foresee()
	if p.core >= 0 {
		w.add(model.AssemblyStep{Task: model.Task{ID: model.SawCore, Kind: model.Saw, Name: "saw the core", Bench: sawMinutes, Guess: true}, Station: p.Design.Core.Span.From})
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

// shutIn does what must be done before the joint at a position closes: the
// components that it shuts in with their wires, and the wires that hang through it.
func (w *writer) shutIn(n int) {
	var done []string
	for i, v := range w.wires {
		through := w.crosses(v, n)
		first, other := w.ends[i][0], w.ends[i][1]
		if through || first >= 0 && w.shutBy[first] == n {
			done = append(done, w.draw(i)...)
		}
		if other >= 0 && w.shutBy[other] == n || w.hangs(i, n) {
			done = append(done, w.connect(i)...)
		}
	}
	for _, bay := range w.before[n] {
		done = append(done, w.place(bay)...)
	}
	w.tried = append(w.tried, done)
}

// hangs reports whether the joint unites the ends of a wire of which neither is
// reached any more: both are connected before, while it hangs between.
func (w *writer) hangs(i, n int) bool {
	a, b := w.wires[i].ends[0], w.wires[i].ends[1]
	if a < 0 || b < 0 || w.inside[a] < 0 || w.inside[b] < 0 {
		return false
	}
	before, after := w.bodiesBefore(n), w.order.after[n]
	united := before[w.inside[a]] != before[w.inside[b]] && after[w.inside[a]] == after[w.inside[b]]
	return united && !w.reached(a, after) && !w.reached(b, after)
}

func (w *writer) bodiesBefore(n int) bodies {
	if n == 0 {
		return w.apart()
	}
	return w.order.after[n-1]
}

// crosses reports whether a wire hangs through a seam when it closes.
func (w *writer) crosses(v wire, n int) bool {
	j := w.joints[w.order.joints[n]]
	at := float64(j.station)
	return j.id != "" && !j.side && j.bonded && v.low < at && at < v.high
}

// place puts a component into its bay, once.
func (w *writer) place(bay int) []string {
	if bay < 0 || w.put[bay] {
		return nil
	}
	w.put[bay] = true
	b := w.Places.Bays[bay]
	t := model.Task{
		ID: model.PutTask(b.Component), Kind: model.Put, Name: "put the " + b.Component + " in its place",
		Piece: b.Piece.String(), Bench: putMinutes, Guess: true, After: w.ready(w.inside[bay]),
	}
	w.add(model.AssemblyStep{Task: t, Pieces: []model.PieceID{b.Piece}, Station: b.Centre[2]})
	return []string{t.ID}
}

// draw draws a wire and connects its first end, once.
func (w *writer) draw(i int) []string {
	if w.drawn[i] {
		return nil
	}
	w.drawn[i] = true
	first := w.ends[i][0]
	done := w.place(first)
	t := model.Task{
		ID: model.DrawTask(w.wires[i].id), Kind: model.Draw, Name: "draw the wire " + w.wires[i].id + " and connect it at the " + w.end(first),
		Bench: drawMinutes, Guess: true, After: w.atBay(first),
	}
	w.add(model.AssemblyStep{Task: t, Pieces: w.pieceAt(first), Station: w.stationOf(first)})
	return append(done, t.ID)
}

// connect connects a wire's other end, once.
func (w *writer) connect(i int) []string {
	if w.joined[i] {
		return nil
	}
	w.joined[i] = true
	done := w.draw(i)
	other := w.ends[i][1]
	done = append(done, w.place(other)...)
	t := model.Task{
		ID: model.SolderTask(w.wires[i].id), Kind: model.Solder, Name: "connect the wire " + w.wires[i].id + " at the " + w.end(other),
		Bench: endMinutes, Guess: true, After: append([]string{model.DrawTask(w.wires[i].id)}, w.atBay(other)...),
	}
	w.add(model.AssemblyStep{Task: t, Pieces: w.pieceAt(other), Station: w.stationOf(other)})
	return append(done, t.ID)
}

func (w *writer) end(bay int) string {
	if bay < 0 {
		return "plug"
	}
	return w.Places.Bays[bay].Component
}

// atBay are the tasks that work at a bay waits for.
func (w *writer) atBay(bay int) []string {
	if bay < 0 {
		return nil
	}
	return append([]string{model.PutTask(w.Places.Bays[bay].Component)}, w.ready(w.inside[bay])...)
}

func (w *writer) pieceAt(bay int) []model.PieceID {
	if bay < 0 {
		return nil
	}
	return []model.PieceID{w.Places.Bays[bay].Piece}
}

func (w *writer) stationOf(bay int) unit.Length {
	if bay < 0 {
		return 0
	}
	return w.Places.Bays[bay].Centre[2]
}

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

// join closes the joint at a position.
func (w *writer) join(n int) {
	j := w.joints[w.order.joints[n]]
	t := j.task
	step := model.AssemblyStep{Joint: j.id, Station: j.station, Side: w.order.sides[n]}
	t.Name, step.Side = w.moving(n)
	united := w.order.after[n].of(j.keeps)
	for _, k := range append([]int{j.keeps, j.comes}, j.hosts...) {
		if j.side && j.bonded && k != j.comes {
			t.After = append(t.After, w.printed(k)...)
		} else {
			t.After = append(t.After, w.ready(k)...)
		}
		if piece := w.things[k].piece; piece != nil && !slices.Contains(step.Pieces, piece.ID) {
			step.Pieces = append(step.Pieces, piece.ID)
		}
	}
	if j.side && j.bonded {
		t.After = append(t.After, w.underOne(j)...)
	}
	if j.bonded {
		step.Shuts, step.Through, t.After = w.closing(n, t.After)
	} else {
		for _, k := range united {
			t.After = append(t.After, w.painted(k)...)
		}
		t.After = append(t.After, w.late...)
	}
	slices.Sort(t.After)
	t.After = slices.Compact(t.After)
	step.Task = t
	w.add(step)
	last := []string{t.ID}
	if j.side && j.bonded {
		last = append(last, w.last[j.keeps]...)
	}
	for _, k := range united {
		w.last[k] = last
	}
}

// underOne is the joint that makes one body of what a guest sits on: nothing else
// on that body has to set before the guest goes on.
func (w *writer) underOne(j joint) []string {
	for n := range w.order.joints {
		b := w.bodiesBefore(n)
		apart := slices.ContainsFunc(j.hosts, func(h int) bool { return b[h] != b[j.keeps] })
		if !apart && n > 0 {
			return []string{w.joints[w.order.joints[n-1]].task.ID}
		}
		if !apart {
			return nil
		}
	}
	return nil
}

// moving names a joint for the smaller body, which is the one that hands move, and
// says where it comes from.
func (w *writer) moving(n int) (string, model.Side) {
	j, side, before := w.joints[w.order.joints[n]], w.order.sides[n], w.bodiesBefore(n)
	if j.verb == "" {
		return j.task.Name, side
	}
	stays, moves := j.keeps, j.comes
	if len(before.of(moves)) > len(before.of(stays)) {
		stays, moves = moves, stays
		side = map[model.Side]model.Side{model.FromNose: model.FromFoot, model.FromFoot: model.FromNose}[side]
	}
	return j.verb + w.name(moves) + " to " + w.name(stays), side
}

// closing is what a glued joint shuts in and waits for.
func (w *writer) closing(n int, after []string) (shuts, through, all []string) {
	for _, bay := range w.before[n] {
		shuts = append(shuts, w.Places.Bays[bay].Component)
	}
	for _, v := range w.wires {
		if w.crosses(v, n) {
			through = append(through, v.id)
			after = append(after, model.DrawTask(v.id))
		}
	}
	for i, v := range w.wires {
		if w.joined[i] && (w.hangs(i, n) || slices.ContainsFunc(w.before[n], func(bay int) bool { return bay == v.ends[0] || bay == v.ends[1] })) {
			after = append(after, model.SolderTask(v.id))
		}
	}
	after = append(after, w.tried[n]...)
	if len(shuts) > 0 && len(w.wires) > 0 {
		j := w.joints[w.order.joints[n]]
		try := model.Task{
			ID: "try." + j.task.ID, Kind: model.Try, Name: "try what closes with the next joint",
			Bench: tryMinutes, Guess: true, After: append(slices.Clone(w.tried[n]), puts(shuts)...),
		}
		w.add(model.AssemblyStep{Task: try, Station: j.station})
		after = append(after, try.ID)
	}
	return shuts, through, after
}

func puts(components []string) []string {
	var out []string
	for _, c := range components {
		out = append(out, model.PutTask(c))
	}
	return out
}

// painted is the last coat on what a thing is glued into.
func (w *writer) painted(k int) []string {
	piece := w.things[k].piece
	if piece == nil {
		return nil
	}
	for _, g := range w.groups {
		if slices.Contains(g.Pieces, piece.ID) {
			return []string{model.FinishTask(g.ID)}
		}
	}
	return nil
}

// afterPaint puts in and connects what is still reached when all is glued.
func (w *writer) afterPaint() {
	from := len(w.steps)
	for bay := range w.Places.Bays {
		w.place(bay)
	}
	for i := range w.wires {
		w.draw(i)
		w.connect(i)
	}
	for k := from; k < len(w.steps); k++ {
		s := &w.steps[k]
		for _, id := range s.Pieces {
			s.Task.After = append(s.Task.After, w.painted(w.index[id])...)
		}
		w.late = append(w.late, s.Task.ID)
	}
}

// lastly fits the panels and tries everything.
func (w *writer) lastly() {
	all := slices.Clone(w.late)
	for k := range w.things {
		all = append(all, w.last[k]...)
	}
	for _, g := range w.groups {
		all = append(all, model.FinishTask(g.ID))
	}
	for _, o := range w.Design.Openings {
		if !o.Panel {
			continue
		}
		t := model.Task{
			ID: model.FitTask(o.ID), Kind: model.Join, Name: "fit the panel of " + o.ID, Bench: panelMinutes, Guess: true,
			After: slices.Clone(w.late),
		}
		step := model.AssemblyStep{Station: o.Station, Side: model.FromSide}
		for k, piece := range w.things {
			switch {
			case piece.piece == nil || piece.part != o.Part:
			case piece.piece.ID.Kind == model.Panel && piece.piece.ID.From == o.ID:
				t.After = append(t.After, w.ready(k)...)
				t.After = append(t.After, w.painted(k)...)
				step.Pieces = append(step.Pieces, piece.piece.ID)
			default:
				t.After = append(t.After, w.painted(k)...)
				t.After = append(t.After, w.ready(k)...)
			}
		}
		slices.Sort(t.After)
		t.After = slices.Compact(t.After)
		step.Task = t
		w.add(step)
		all = append(all, t.ID)
	}
	if len(w.Places.Bays) > 0 {
		slices.Sort(all)
		all = slices.Compact(all)
		w.add(model.AssemblyStep{Task: model.Task{
			ID: model.TryTask, Kind: model.Try, Name: "try everything: each button, light and sound", Bench: allMinutes, Guess: true, After: all,
		}})
	}
}
