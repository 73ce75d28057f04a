package facts

import (
	"context"
	"math"
	"slices"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Input is the log and the shop.
type Input struct {
	Events []model.Event
	Shop   model.Shop
}

// Result is what the log makes of them.
type Result struct {
	Made      []model.Made
	Shop      model.Shop
	CoreWidth *unit.Value             // widest diameter read
	CoreMean  *unit.Value             // mean of the diameters read, which gives its girth
	Took      map[string]unit.Minutes // by piece
	TookTask  map[string]unit.Minutes // hands on bench work, by task's id
	Done      []string                // ids of tasks
	Failures  int                     // prints that failed
}

const (
	caliper = 0.03 // mm, standard uncertainty of a caliper across a diameter: common practice
	scatter = 0.05 // mm, of one reading where there is only one: common practice
)

// Run reads the log.
func Run(_ context.Context, in Input) (Result, finding.List, error) {
	out := Result{Shop: in.Shop, Took: map[string]unit.Minutes{}, TookTask: map[string]unit.Minutes{}}
	out.Shop.Printers = slices.Clone(in.Shop.Printers)
	var found finding.List
	readings := map[string][]float64{} // by printer and side
	var core []float64
	for _, e := range standing(in.Events) {
		switch e.Kind {
		case model.Released:
			out.Made = append(out.Made, model.Made{Piece: e.Piece, Label: e.Label, Revision: e.Revision})
		case model.Printed:
			out.Done = append(out.Done, "print."+e.Piece)
			if e.Minutes > 0 {
				out.Took[e.Piece] = e.Minutes
			}
			markMade(out.Made, e.Piece, func(m *model.Made) { m.Printed = true })
		case model.Failed:
			out.Failures++
			out.Done = slices.DeleteFunc(out.Done, func(id string) bool { return id == "print."+e.Piece })
			delete(out.Took, e.Piece)
			markMade(out.Made, e.Piece, func(m *model.Made) { m.Printed = false; m.Failures++ })
		case model.Done:
			out.Done = append(out.Done, e.Task)
			if e.Minutes > 0 {
				out.TookTask[e.Task] = e.Minutes
			}
		case model.Measured:
			if e.What == "core" {
				core = append(core, e.Came)
				continue
			}
			readings[e.Printer+" "+e.What] = append(readings[e.Printer+" "+e.What], e.Came-e.Asked)
		case model.Started, model.Spent, model.Photo, model.Remark, model.Withdrawn:
		}
	}
	for i := range out.Shop.Printers {
		learn(&out.Shop.Printers[i], readings)
	}
	if len(core) > 0 {
		widest := slices.Max(core)
		out.CoreWidth = &unit.Value{X: widest, U: caliper, Sources: []unit.Source{{Name: "core diameter", U: caliper}}}
		mean := 0.0
		for _, d := range core {
			mean += d / float64(len(core))
		}
		out.CoreMean = &unit.Value{X: mean, U: caliper, Sources: []unit.Source{{Name: "core diameter", U: caliper}}}
	}
	return out, found, nil
}

// standing are the events that nobody took back. A release stays: what is made
// is a fact.
func standing(events []model.Event) []model.Event {
	back := map[int]bool{}
	for _, e := range events {
		if e.Kind == model.Withdrawn {
			back[e.Of] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(events), func(e model.Event) bool {
		return back[e.Number] && e.Kind != model.Released
	})
}

func markMade(made []model.Made, piece string, change func(*model.Made)) {
	for i := range made {
		if made[i].Piece == piece {
			change(&made[i])
		}
	}
}

// learn weighs a printer's declared offsets with its readings.
func learn(p *model.Printer, readings map[string][]float64) {
	outer, bore := readings[p.ID+" outer"], readings[p.ID+" bore"]
	c := p.Calibrated
	c.Outer, c.Bore = weigh(c.Outer, outer), weigh(c.Bore, bore)
	c.OuterRead, c.BoreRead = len(outer) > 0, len(bore) > 0
	c.Measured = c.Measured || c.OuterRead && c.BoreRead
	p.Calibrated = c
}

func weigh(declared unit.Value, readings []float64) unit.Value {
	n := float64(len(readings))
	if n == 0 {
		return declared
	}
	mean, spread := 0.0, 0.0
	for _, r := range readings {
		mean += r / n
	}
	for _, r := range readings {
		spread += (r - mean) * (r - mean)
	}
	u := scatter
	if n > 1 {
		u = math.Sqrt(spread / (n - 1))
	}
	u = math.Max(caliper, u/math.Sqrt(n))
	if declared.U == 0 {
		return declared
	}
	wd, wr := 1/(declared.U*declared.U), 1/(u*u)
	return unit.Value{X: (wd*declared.X + wr*mean) / (wd + wr), U: 1 / math.Sqrt(wd+wr)}
}
