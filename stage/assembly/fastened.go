package assembly

import (
	"fmt"
	"slices"
	"strings"

	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// fastened says what a guest is held by besides glue, and the minutes that it
// takes: "on 3 × steel pin 4 m6 x 12".
func (p *problem) fastened(j joint) (words string, hands unit.Minutes) {
	for _, id := range j.ids {
		words += p.with(id)
		for _, b := range p.Division.BoughtFor(id) {
			if b.Stock.Use != stock.Magnet {
				hands += holdMinutes * unit.Minutes(b.Count)
			}
		}
	}
	return words, hands
}

// with says what a mount or a panel is held by; empty where nothing is bought
// for it.
func (p *problem) with(of string) string {
	var all []string
	use := stock.FastenerUse("")
	for _, b := range p.Division.BoughtFor(of) {
		use = b.Stock.Use
		all = append(all, fmt.Sprintf("%d × %s", b.Count, b))
	}
	switch use {
	case stock.Pin:
		return " on " + strings.Join(all, ", ")
	case stock.Screw:
		return " with " + strings.Join(all, ", ") + ", heads flush"
	case stock.Magnet:
		return " by its magnets"
	}
	return ""
}

// magnets is the task that glues a guest's magnets in; none where it has none. The
// two of a pair that pull while they lie on each other still pull when each is moved
// straight into its pocket, so their outer faces are marked and go in first.
func (w *writer) magnets(j joint) []string {
	var tasks []string
	for _, id := range j.ids {
		for _, b := range w.Division.BoughtFor(id) {
			if b.Stock.Use != stock.Magnet {
				continue
			}
			glue := ""
			for _, m := range w.Design.Mounts {
				if m.ID == id {
					glue = m.Glue
				}
			}
			t := model.Task{
				ID: "magnets." + id, Kind: model.Join, Guess: true,
				Name: fmt.Sprintf("glue %d pairs of %s into %s and %s: let the two of a pair snap together, mark both outer faces, and press each in with its mark down in the pocket",
					b.Count/2, b.Stock.Name, w.things[j.comes].part, w.things[j.keeps].part),
				Bench: pairMinutes * unit.Minutes(b.Count/2), Cure: stock.GlueFor(glue).Cure,
			}
			step := model.AssemblyStep{Station: j.station}
			for _, k := range append([]int{j.keeps, j.comes}, j.hosts...) {
				t.After = append(t.After, w.printed(k)...)
				if piece := w.things[k].piece; piece != nil && !slices.Contains(step.Pieces, piece.ID) {
					step.Pieces = append(step.Pieces, piece.ID)
				}
			}
			slices.Sort(t.After)
			t.After = slices.Compact(t.After)
			step.Task = t
			w.add(step)
			tasks = append(tasks, t.ID)
		}
	}
	return tasks
}
