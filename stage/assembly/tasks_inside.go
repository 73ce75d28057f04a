package assembly

import (
	"scalewright/model"
	"scalewright/unit"
)

// shutIn does what must be done before the joint at a position closes: the
// components that it shuts in with their wires, and the wires that hang through it.
func (w *writer) shutIn(n int) {
	var done []string
	for i, v := range w.wires {
		through := w.crosses(v, n)
		first, other := w.ends[i][0], w.ends[i][1]
		switch {
		case first >= 0 && w.shutBy[first] == n, through && first >= 0 && w.shutBy[first] < len(w.order.joints):
			done = append(done, w.draw(i)...)
		case through:
			done = append(done, w.hang(i)...)
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

// hang draws a wire of which both ends are reached when all is glued: what they are
// connected to waits for the paint.
func (w *writer) hang(i int) []string {
	if w.drawn[i] {
		return nil
	}
	w.drawn[i], w.loose[i] = true, true
	first := w.ends[i][0]
	t := model.Task{
		ID: model.DrawTask(w.wires[i].id), Kind: model.Draw, Name: "draw the wire " + w.wires[i].id + " and leave both its ends hanging",
		Bench: hangMinutes, Guess: true, After: w.ready(w.thingAt(first)),
	}
	w.add(model.AssemblyStep{Task: t, Pieces: w.pieceAt(first), Station: w.stationOf(first)})
	return []string{t.ID}
}

// connect connects a wire's other end, or both where it hangs, once.
func (w *writer) connect(i int) []string {
	if w.joined[i] {
		return nil
	}
	w.joined[i] = true
	done := w.draw(i)
	first, other := w.ends[i][0], w.ends[i][1]
	done = append(done, w.place(other)...)
	t := model.Task{
		ID: model.SolderTask(w.wires[i].id), Kind: model.Solder, Name: "connect the wire " + w.wires[i].id + " at the " + w.end(other),
		Bench: endMinutes, Guess: true, After: append([]string{model.DrawTask(w.wires[i].id)}, w.atBay(other)...),
	}
	if w.loose[i] {
		done = append(done, w.place(first)...)
		t.Name, t.Bench = "connect the wire "+w.wires[i].id+" at the "+w.end(first)+" and the "+w.end(other), 2*endMinutes
		t.After = append(t.After, w.atBay(first)...)
	}
	at := other
	if at < 0 {
		at = first // nobody works at the wall
	}
	w.add(model.AssemblyStep{Task: t, Pieces: w.pieceAt(at), Station: w.stationOf(at)})
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

func (w *writer) thingAt(bay int) int {
	if bay < 0 {
		return -1
	}
	return w.inside[bay]
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
