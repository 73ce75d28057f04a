package book

import (
	"fmt"

	"scalewright/drawing"
	"scalewright/lane"
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
		"Work begins on %s. As planned it ends on %s, with %s bench hours; likely on %s, and by %s nine times in ten, since work takes longer than it was guessed and prints fail. Printers run by themselves between starting and taking off. Minutes at the bench are a guess until you log.",
		day(c.Start), day(c.Finish), hours(c.Bench.Hours()), day(c.Likely), day(c.Safe))))
	f.text(drawing.SizeText, plain("A dot marks what the end hangs on, so that a day later there is a day later at the end: "+b.hangsOn()+"."))
	f.text(drawing.SizeSmall, bold("Take care. "), plain(Care(calendar.Acts(c))))
	f.y += 2
	glance := lane.Days(b.r, f.page.body.W)
	f.page.scene.Place(glance, drawing.Pt(f.page.body.X, f.y), "days-")
	f.y += glance.Height + 3
	f.table(b.calendarTable(f.page.body.W))
}

func (b *sheets) calendarTable(width float64) drawing.Table {
	who := 30.0
	if len(b.r.Design.Shop.People) == 1 {
		who = 0 // nobody else could
	}
	t := drawing.Table{ID: "calendar", Columns: []drawing.Column{{Head: "when", Width: 27}}}
	if who > 0 {
		t.Columns = append(t.Columns, drawing.Column{Head: "who", Width: who})
	}
	t.Columns = append(t.Columns, drawing.Column{Head: "what", Width: width - 27 - who - 13}, drawing.Column{Head: "done", Width: 13, Align: drawing.Middle})
	cells := func(when, whose, what, done string) []string {
		if who > 0 {
			return []string{when, whose, what, done}
		}
		return []string{when, what, done}
	}
	last := ""
	for _, a := range calendar.Acts(b.r.Calendar) {
		from, to := b.date(a.Step.From), b.date(a.Step.To)
		if d := from.Format("Monday 2 January"); d != last {
			last = d
			t.Rows = append(t.Rows, drawing.Row{Cells: cells("", "", d, ""), Face: drawing.Bold, Tint: drawing.Shade})
		}
		row := drawing.Row{Cells: cells(
			from.Format("15:04")+" to "+to.Format("15:04"), a.Task.Who, hangMark(a.Task)+ActWords(b.r, a)+b.afterwards(a.Then), "☐",
		)}
		if a.Task.Piece != "" {
			row.To = "piece." + a.Task.Piece
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// afterwards says what goes on by itself once hands are off.
func (b *sheets) afterwards(s *calendar.Step) string {
	if s == nil {
		return ""
	}
	until := b.date(s.To).Format("Mon 15:04")
	if s.Name == calendar.StepRun {
		return fmt.Sprintf("; it runs %s, until %s", unit.Duration(s.To-s.From), until)
	}
	return "; leave it until " + until
}

// A task that the end hangs on in so many of the sampled plans is marked.
const hangsOften = 0.5

func hangMark(t calendar.Task) string {
	if t.Critical >= hangsOften {
		return "• "
	}
	return ""
}

// hangsOn counts what the end hangs on.
func (b *sheets) hangsOn() string {
	n := 0
	for _, t := range b.r.Calendar.Tasks {
		if t.Critical >= hangsOften {
			n++
		}
	}
	return fmt.Sprintf("%d of %d things to do, in at least half of the plans that were tried with other luck", n, len(b.r.Calendar.Tasks))
}
