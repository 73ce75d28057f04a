package sched

import (
	"fmt"
	"slices"
	"sort"
)

// Interval is a stretch of minutes, Start included, End not.
type Interval struct {
	Start, End int
}

// Minutes is the length of the interval.
func (iv Interval) Minutes() int { return iv.End - iv.Start }

// String writes the interval as [start,end).
func (iv Interval) String() string { return fmt.Sprintf("[%d,%d)", iv.Start, iv.End) }

// Calendar says when a resource is open. A nil *Calendar is open at every
// minute; the zero value is never open. A calendar does not change once made and
// may be shared. It is finite: after its last interval it is closed for good.
type Calendar struct {
	open   []Interval // sorted, apart from each other, none empty
	before []int      // before[i]: open minutes before open[i]
}

// NewCalendar makes a calendar of the given intervals, which may come in any
// order, overlap or touch. Empty intervals are dropped.
func NewCalendar(open ...Interval) *Calendar {
	ivs := slices.Clone(open)
	slices.SortFunc(ivs, func(a, b Interval) int { return a.Start - b.Start })
	c := &Calendar{}
	for _, iv := range ivs {
		if iv.End <= iv.Start {
			continue
		}
		if n := len(c.open); n > 0 && iv.Start <= c.open[n-1].End {
			c.open[n-1].End = max(c.open[n-1].End, iv.End)
			continue
		}
		c.open = append(c.open, iv)
	}
	sum := 0
	c.before = make([]int, len(c.open))
	for i, iv := range c.open {
		c.before[i] = sum
		sum += iv.Minutes()
	}
	return c
}

// Intervals returns the open intervals in order; the slice is the caller's.
// It is nil for a nil calendar, which has no finite list.
func (c *Calendar) Intervals() []Interval {
	if c == nil {
		return nil
	}
	return slices.Clone(c.open)
}

// Equal reports whether two calendars are open at the same minutes.
func (c *Calendar) Equal(d *Calendar) bool {
	if c == nil || d == nil {
		return c == d
	}
	return slices.Equal(c.open, d.open)
}

// End is the minute after the last open one, 0 where there is none or c is nil.
func (c *Calendar) End() int {
	if c == nil || len(c.open) == 0 {
		return 0
	}
	return c.open[len(c.open)-1].End
}

// Total is the number of open minutes; a nil calendar has no total and gives 0.
func (c *Calendar) Total() int {
	if c == nil {
		return 0
	}
	return c.Work(c.End())
}

// after is the index of the first interval that ends after t.
func (c *Calendar) after(t int) int {
	return sort.Search(len(c.open), func(i int) bool { return c.open[i].End > t })
}

// Next is the first open minute at or after t; ok is false where there is none.
func (c *Calendar) Next(t int) (minute int, ok bool) {
	if c == nil {
		return t, true
	}
	i := c.after(t)
	if i == len(c.open) {
		return 0, false
	}
	return max(t, c.open[i].Start), true
}

// Work is the number of open minutes before t: clock time to work time. On a
// nil calendar it is t itself.
func (c *Calendar) Work(t int) int {
	if c == nil {
		return t
	}
	i := c.after(t)
	if i == len(c.open) {
		if i == 0 {
			return 0
		}
		return c.before[i-1] + c.open[i-1].Minutes()
	}
	return c.before[i] + max(0, t-c.open[i].Start)
}

// Clock is the earliest minute before which w minutes are open: work time to
// clock time, where work ends. ok is false where the calendar has fewer than w.
func (c *Calendar) Clock(w int) (minute int, ok bool) {
	if c == nil {
		return w, true
	}
	if w <= 0 {
		return 0, true
	}
	// The last interval with fewer than w minutes before it holds the w-th one.
	i := sort.SearchInts(c.before, w) - 1
	if i < 0 || c.before[i]+c.open[i].Minutes() < w {
		return 0, false
	}
	return c.open[i].Start + w - c.before[i], true
}

// Intersect is open where both calendars are.
func Intersect(a, b *Calendar) *Calendar {
	switch {
	case a == nil:
		return b
	case b == nil:
		return a
	}
	var both []Interval
	for i, j := 0, 0; i < len(a.open) && j < len(b.open); {
		x, y := a.open[i], b.open[j]
		if s, e := max(x.Start, y.Start), min(x.End, y.End); s < e {
			both = append(both, Interval{s, e})
		}
		if x.End < y.End {
			i++
		} else {
			j++
		}
	}
	return NewCalendar(both...)
}
