package assembly

import (
	"slices"

	"scalewright/model"
)

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
			ID: model.FitTask(o.ID), Kind: model.Join, Name: "fit the panel of " + o.ID + w.with(o.ID), Bench: panelMinutes, Guess: true,
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
