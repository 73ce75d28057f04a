package book

import (
	"cmp"
	"fmt"
	"slices"

	"scalewright/drawing"
	"scalewright/stage/calendar"
	"scalewright/unit"
)

// calendar lists, day by day, when somebody is needed and what for.
func (b *sheets) calendar() {
	c := b.r.Calendar
	if len(c.Tasks) == 0 {
		return
	}
	f := b.flowOn(pageCalendar, "Calendar")
	f.head("Calendar")
	f.text(drawing.SizeText, plain(fmt.Sprintf(
		"Work begins on %s and is planned for %s, with %s bench hours. Printers run by themselves between starting and taking off. Minutes at the bench are a guess until you log.",
		day(c.Start), day(c.Finish), hours(c.Bench.Hours()))))
	f.y += 2
	f.table(b.calendarTable(f.page.body.W))
}

// act is a moment at which somebody is needed.
type act struct {
	from, to unit.Minutes
	who      string
	what     string
	to2      string // the page it leads to
}

func (b *sheets) calendarTable(width float64) drawing.Table {
	t := drawing.Table{ID: "calendar", Columns: []drawing.Column{
		{Head: "when", Width: 27},
		{Head: "who", Width: 30},
		{Head: "what", Width: width - 27 - 30 - 13},
		{Head: "done", Width: 13, Align: drawing.Middle},
	}}
	last := ""
	for _, a := range b.acts() {
		if d := b.date(a.from).Format("Monday 2 January"); d != last {
			last = d
			t.Rows = append(t.Rows, drawing.Row{Cells: []string{"", "", d, ""}, Face: drawing.Bold, Tint: drawing.Shade})
		}
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{
			b.date(a.from).Format("15:04") + " to " + b.date(a.to).Format("15:04"), a.who, a.what, "☐",
		}, To: a.to2})
	}
	return t
}

// acts are the steps of the plan that take a person, by time.
func (b *sheets) acts() []act {
	var out []act
	for _, t := range b.r.Calendar.Tasks {
		for k, s := range t.Steps {
			if s.Name == stepRun || s.Name == stepCure {
				continue
			}
			a := act{from: s.From, to: s.To, who: t.Who, what: stepWords(b.r, t, s)}
			if k+1 < len(t.Steps) {
				a.what += b.afterwards(t, t.Steps[k+1])
			}
			if t.Piece != "" {
				a.to2 = "piece." + t.Piece
			}
			out = append(out, a)
		}
	}
	slices.SortStableFunc(out, func(x, y act) int { return cmp.Or(cmp.Compare(x.from, y.from), cmp.Compare(x.what, y.what)) })
	return out
}

// afterwards says what goes on by itself once hands are off.
func (b *sheets) afterwards(_ calendar.Task, s calendar.Step) string {
	until := b.date(s.To).Format("Mon 15:04")
	switch s.Name {
	case stepRun:
		return fmt.Sprintf("; it runs %s, until %s", unit.Duration(s.To-s.From), until)
	case stepCure:
		return "; leave it until " + until
	}
	return ""
}
