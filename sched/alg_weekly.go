package sched

import (
	"fmt"
	"slices"
)

// Minutes in a day and in a week. Weeks are of wall-clock minutes: a caller who
// shifts its clock twice a year expands that into exceptions.
const (
	Day  = 24 * 60
	Week = 7 * Day
)

// Days of the week as minutes after Monday 00:00, to be added to a time of day:
// Saturday + 9*60 is Saturday at nine.
const (
	Monday    = 0 * Day
	Tuesday   = 1 * Day
	Wednesday = 2 * Day
	Thursday  = 3 * Day
	Friday    = 4 * Day
	Saturday  = 5 * Day
	Sunday    = 6 * Day
)

// Exception opens or closes a stretch against the weekly pattern.
type Exception struct {
	Interval // in minutes of the plan
	Open     bool
}

// Weekly is a rule for a calendar: hours that repeat each week, and exceptions.
type Weekly struct {
	// Hours are minutes after Monday 00:00; each starts within the week and may
	// run on into the next, by less than a week.
	Hours []Interval
	// Offset is where in the week minute 0 of the plan lies: 0 is Monday 00:00.
	Offset int
	// Horizon is the minute of the plan up to which the rule is expanded.
	Horizon int
	// Exceptions apply in order, a later one over an earlier.
	Exceptions []Exception
}

// maxWeeks bounds the expansion, so that a mistyped horizon is an error and not
// a full memory: 100 years.
const maxWeeks = 5218

// Calendar expands the rule from minute 0 to the horizon.
func (w Weekly) Calendar() (*Calendar, error) {
	if w.Offset < 0 || w.Offset >= Week {
		return nil, fmt.Errorf("offset %d lies outside the week, 0 to %d", w.Offset, Week-1)
	}
	if w.Horizon < 0 || w.Horizon/Week > maxWeeks {
		return nil, fmt.Errorf("horizon %d lies outside 0 to %d", w.Horizon, maxWeeks*Week)
	}
	for i, iv := range w.Hours {
		if iv.Start < 0 || iv.Start >= Week || iv.End <= iv.Start || iv.End > iv.Start+Week {
			return nil, fmt.Errorf("hours %d: %v is no stretch that starts in the week and lasts up to a week", i, iv)
		}
	}
	var open []Interval
	// One week early, for the hours that run on into the plan's first.
	for monday := -w.Offset - Week; monday < w.Horizon; monday += Week {
		for _, iv := range w.Hours {
			open = append(open, Interval{monday + iv.Start, monday + iv.End})
		}
	}
	for i, x := range w.Exceptions {
		if x.End <= x.Start {
			return nil, fmt.Errorf("exception %d: %v is empty", i, x.Interval)
		}
		if x.Open {
			open = append(open, x.Interval)
		} else {
			open = without(open, x.Interval)
		}
	}
	for i := range open {
		open[i].Start = max(open[i].Start, 0)
		open[i].End = min(open[i].End, w.Horizon)
	}
	return NewCalendar(open...), nil
}

// without cuts a stretch out of every interval.
func without(open []Interval, cut Interval) []Interval {
	var rest []Interval
	for _, iv := range open {
		rest = append(
			rest,
			Interval{iv.Start, min(iv.End, cut.Start)},
			Interval{max(iv.Start, cut.End), iv.End},
		)
	}
	return slices.DeleteFunc(rest, func(iv Interval) bool { return iv.End <= iv.Start })
}
