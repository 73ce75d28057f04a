package book

import (
	"fmt"
	"io"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"scalewright/job"
	"scalewright/stage/calendar"
	"scalewright/unit"
)

// floating is a date and time without a zone (RFC 5545, 3.3.5, form 1): the
// plan's hours are the maker's own, wherever the calendar is read.
const floating = "20060102T150405"

// calendarICS writes the plan: an event each time somebody is needed, and one
// for each run of a printer, which blocks nobody's time. The same task keeps its
// UID from run to run, so that a calendar that reads the file again moves it.
func calendarICS(w io.Writer, r job.Result, o Options) error {
	cal := ics.NewCalendarFor("Scalewright")
	cal.SetProductId("-//Scalewright//build calendar//EN")
	cal.SetMethod(ics.MethodPublish)
	cal.SetName(r.Name)
	if len(r.Calendar.Tasks) > 0 {
		start, err := time.Parse(time.DateOnly, r.Calendar.Start)
		if err != nil {
			return fmt.Errorf("read the start date: %w", err)
		}
		for _, t := range r.Calendar.Tasks {
			for k, s := range t.Steps {
				event(cal, r, o, start, t, s, again(t.Steps[:k], s.Name))
			}
		}
	}
	return cal.SerializeTo(w, ics.WithNewLineWindows) // RFC 5545, 3.1: lines end in CRLF everywhere
}

// again tells a step that goes on another evening from those before it.
func again(before []calendar.Step, name string) string {
	n := 1
	for _, s := range before {
		if s.Name == name {
			n++
		}
	}
	if n == 1 {
		return ""
	}
	return fmt.Sprintf(".%d", n)
}

func event(cal *ics.Calendar, r job.Result, o Options, start time.Time, t calendar.Task, s calendar.Step, again string) {
	e := cal.AddEvent(fmt.Sprintf("%s.%s%s@%s.scalewright", t.ID, s.Name, again, slug(r.Name)))
	e.SetDtStampTime(o.Date)
	at := func(m unit.Minutes) string { return start.Add(time.Duration(m) * time.Minute).Format(floating) }
	e.SetProperty(ics.ComponentPropertyDtStart, at(s.From))
	e.SetProperty(ics.ComponentPropertyDtEnd, at(s.To))
	e.SetSummary(stepWords(r, t, s))
	if s.ByItself() {
		e.SetTimeTransparency(ics.TransparencyTransparent)
		return
	}
	e.SetDescription(t.Who)
}

// slug is a name as ids have it: small letters, digits and hyphens.
func slug(name string) string {
	var b strings.Builder
	for _, c := range strings.ToLower(name) {
		switch {
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
			b.WriteRune(c)
		default:
			if s := b.String(); s != "" && !strings.HasSuffix(s, "-") {
				b.WriteByte('-')
			}
		}
	}
	return strings.Trim(b.String(), "-")
}
