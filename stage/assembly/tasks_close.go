package assembly

import (
	"slices"

	"scalewright/model"
)

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
	t.After = append(t.After, w.magnets(j)...)
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
