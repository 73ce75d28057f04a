package lane

import (
	"fmt"
	"time"

	"scalewright/drawing"
	"scalewright/job"
	"scalewright/stage/calendar"
	"scalewright/unit"
)

// Rows of the plan at a glance, mm of paper.
const (
	daysName = 30.0 // kept for the names of the rows
	daysHead = 9.0  // and for the dates above them
	daysRow  = 6.0
	daysBar  = 3.6
	leastBar = 0.25 // a bar is never narrower, so that a short act is seen
	leastDay = 4.0  // mm; narrower days are marked by weeks only
)

// Days is the plan at a glance: a row for each printer, each person, and what
// hardens or dries by itself, over the days; and the likely and the safe end.
func Days(r job.Result, width float64) *drawing.Scene {
	rows := dayRows(r)
	start, err := time.Parse(time.DateOnly, r.Calendar.Start)
	if err != nil || len(r.Calendar.Tasks) == 0 {
		return drawing.New(width, 0)
	}
	d := days{start: start, count: dayOf(start, r.Calendar.Finish)}
	if safe := dayOf(start, r.Calendar.Safe); safe > d.count {
		d.count = safe
	}
	d.count++
	d.wide = (width - daysName) / float64(d.count)
	s := drawing.New(width, daysHead+daysRow*float64(len(rows))+4)
	s.Title = "The plan at a glance"
	d.scale(s, len(rows))
	for k, row := range rows {
		y := daysHead + daysRow*float64(k)
		s.Text(drawing.Text{At: drawing.Pt(0, y+daysRow-1.8), String: drawing.Shorten(row.name, drawing.Regular, drawing.SizeSmall, daysName-2), Size: drawing.SizeSmall})
		for _, b := range row.bars {
			from, to := d.x(b.From), d.x(b.To)
			s.Rect(drawing.Rect{X: from, Y: y + (daysRow-daysBar)/2, W: max(leastBar, to-from), H: daysBar}, drawing.Filled(row.fill))
		}
		s.Line(drawing.Pt(0, y+daysRow), drawing.Pt(width, y+daysRow), drawing.LaneRule)
	}
	bottom := daysHead + daysRow*float64(len(rows))
	d.ends(s, r, width, bottom)
	return s
}

// dayRow is one row of bars.
type dayRow struct {
	name string
	fill drawing.Colour
	bars []calendar.Step
}

func dayRows(r job.Result) []dayRow {
	var rows []dayRow
	for _, p := range r.Design.Shop.Printers {
		row := dayRow{name: printerName(r, p.ID), fill: drawing.Ink3}
		for _, t := range r.Calendar.Tasks {
			if t.Printer == p.ID {
				row.bars = append(row.bars, named(t, calendar.StepRun)...)
			}
		}
		rows = append(rows, row)
	}
	for _, p := range r.Design.Shop.People {
		row := dayRow{name: p.Name, fill: drawing.Ink}
		for _, t := range r.Calendar.Tasks {
			for _, s := range t.Steps {
				if t.Who == p.Name && !s.ByItself() {
					row.bars = append(row.bars, s)
				}
			}
		}
		rows = append(rows, row)
	}
	cure := dayRow{name: "glue and paint", fill: drawing.TintB}
	for _, t := range r.Calendar.Tasks {
		cure.bars = append(cure.bars, named(t, calendar.StepCure)...)
	}
	return append(rows, cure)
}

func named(t calendar.Task, step string) []calendar.Step {
	var out []calendar.Step
	for _, s := range t.Steps {
		if s.Name == step {
			out = append(out, s)
		}
	}
	return out
}

// dayOf is how many days after the start a date is.
func dayOf(start time.Time, date string) int {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return 0
	}
	return int(t.Sub(start).Hours() / 24)
}

type days struct {
	start time.Time
	count int
	wide  float64 // mm a day
}

func (d days) x(m unit.Minutes) float64 { return daysName + float64(m)/1440*d.wide }

// ends marks the evenings of the likely and the safe date, once where they are one.
func (d days) ends(s *drawing.Scene, r job.Result, width, bottom float64) {
	at := func(date string) float64 { return daysName + d.wide*float64(dayOf(d.start, date)+1) }
	likely, safe := at(r.Calendar.Likely), at(r.Calendar.Safe)
	mark := func(x, text float64, name string) {
		s.Line(drawing.Pt(x, daysHead), drawing.Pt(x, bottom), drawing.Proposed)
		s.Text(drawing.Text{At: drawing.Pt(min(text, width), bottom+3.2), String: name, Size: drawing.SizeCaption, H: drawing.End, Colour: drawing.Signal})
	}
	if likely == safe {
		mark(safe, safe, "likely and safe")
		return
	}
	mark(likely, min(likely, safe-endWide), "likely")
	mark(safe, safe, "safe")
}

// endWide is kept between the two words, mm.
const endWide = 7.0

// scale draws a line a day, or a week where days are narrow, and dates where there
// is room.
func (d days) scale(s *drawing.Scene, rows int) {
	bottom := daysHead + daysRow*float64(rows)
	last := -100.0
	for k := range d.count {
		day := d.start.AddDate(0, 0, k)
		x := daysName + d.wide*float64(k)
		monday := day.Weekday() == time.Monday
		if weekend := day.Weekday() == time.Saturday || day.Weekday() == time.Sunday; weekend {
			s.Rect(drawing.Rect{X: x, Y: daysHead, W: d.wide, H: bottom - daysHead}, drawing.Filled(drawing.Field))
		}
		if monday || d.wide >= leastDay {
			s.Line(drawing.Pt(x, daysHead-1), drawing.Pt(x, bottom), drawing.Grid)
		}
		if (monday || k == 0) && x-last >= 17 {
			s.Text(drawing.Text{At: drawing.Pt(x, daysHead-2.4), String: fmt.Sprintf("%d %s", day.Day(), day.Format("Jan")), Size: drawing.SizeCaption})
			last = x
		}
	}
}
