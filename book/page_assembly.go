package book

import (
	"fmt"
	"strings"

	"scalewright/drawing"
	"scalewright/model"
	"scalewright/stage/calendar"
	"scalewright/unit"
)

// assembly is the order in which everything goes together, each step with what
// to look at before it closes something for good.
func (b *sheets) assembly() {
	steps := b.r.Assembly.Steps
	if len(steps) == 0 {
		return
	}
	f := b.flowOn(pageAssembly, "Assembly")
	f.head("Assembly")
	f.text(drawing.SizeText, plain("In this order nothing is in the way of what comes after it, and nobody has to get at what is glued in. Other orders may work too; the calendar moves steps that don't wait for each other."))
	f.text(drawing.SizeSmall, bold("Take care. "), plain(Care(actsOf(steps))))
	f.y += 2
	if bought := b.boughtTable(f.page.body.W); len(bought.Rows) > 0 {
		f.table(bought)
		f.y += 4
	}
	f.table(b.assemblyTable(f.page.body.W))
}

func (b *sheets) assemblyTable(width float64) drawing.Table {
	t := drawing.Table{ID: "assembly", Columns: []drawing.Column{
		{Head: "step", Width: 12, Align: drawing.End},
		{Head: "at", Width: 20, Align: drawing.End},
		{Head: "what", Width: width - 12 - 20 - 24 - 13},
		{Head: "then leave it", Width: 24, Align: drawing.End},
		{Head: "done", Width: 13, Align: drawing.Middle},
	}}
	for i, s := range b.r.Assembly.Steps {
		cure := ""
		if s.Task.Cure > 0 {
			cure = unit.Duration(s.Task.Cure)
		}
		at := b.o.System.Whole(s.Station)
		if s.Task.Kind == model.Saw || s.Task.ID == model.TryTask {
			at = ""
		}
		row := drawing.Row{Cells: []string{fmt.Sprint(i + 1), at, b.stepWords(s), cure, "☐"}}
		if len(s.Shuts) > 0 {
			row.Tint = drawing.Shade
		}
		if len(s.Pieces) > 0 {
			row.To = "piece." + s.Pieces[0].String()
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// stepWords say a step, where the thing comes from, and what to check before.
func (b *sheets) stepWords(s model.AssemblyStep) string {
	words := capital(s.Task.Name)
	if along := s.Side == model.FromFoot || s.Side == model.FromNose; along && s.Task.Kind == model.Join {
		words += ", " + string(s.Side)
	}
	words += "."
	if len(s.Through) > 0 {
		words += fmt.Sprintf(" Through it hang: %s.", strings.Join(s.Through, ", "))
	}
	if len(s.Shuts) > 0 {
		words += fmt.Sprintf(" BEFORE: nobody gets at %s afterwards. Are they in, connected and tried?", strings.Join(s.Shuts, ", "))
	}
	return words
}

// actsOf are the steps as acts, for the cautions that they call for.
func actsOf(steps []model.AssemblyStep) []calendar.Act {
	return each(steps, func(s model.AssemblyStep) calendar.Act {
		return calendar.Act{Task: calendar.Task{ID: s.Task.ID, Kind: string(s.Task.Kind)}}
	})
}
