package main

import (
	"context"
	"fmt"
	"slices"
	"time"

	"scalewright/book"
	"scalewright/job"
	"scalewright/stage/calendar"
	"scalewright/unit"
)

type todayCmd struct {
	Dir string `arg:"" help:"Folder of the build."`
	At  string `help:"Another day than today, such as 2026-12-01."`
}

func (c *todayCmd) Run(ctx context.Context, f *face) error {
	o, err := openBuild(c.Dir)
	if err != nil {
		return err
	}
	defer o.Close()
	day := time.Now().Format(time.DateOnly)
	if c.At != "" {
		if _, err := time.Parse(time.DateOnly, c.At); err != nil {
			return &usageError{fmt.Sprintf("%q is not a date", c.At), "write it like 2026-12-01"}
		}
		day = c.At
	}
	result, err := f.unblocked(ctx, o)
	if err != nil {
		return err
	}
	return f.today(result, day)
}

// today lists the acts of a day; when none is planned for it, of the next day
// that has any.
func (f *face) today(r job.Result, day string) error {
	start, err := time.Parse(time.DateOnly, r.Calendar.Start)
	if err != nil {
		return fmt.Errorf("read the start date: %w", err)
	}
	if r.Calendar.Likely == "" {
		fmt.Fprintln(f.out, "There is no plan; scalewright check says why.")
		return nil
	}
	at := func(a calendar.Act) time.Time { return start.Add(time.Duration(a.Step.From) * time.Minute) }
	acts := calendar.Acts(r.Calendar)
	first := slices.IndexFunc(acts, func(a calendar.Act) bool { return at(a).Format(time.DateOnly) >= day })
	if first < 0 {
		fmt.Fprintln(f.out, "Nothing is planned any more.")
		return nil
	}
	on := at(acts[first]).Format(time.DateOnly)
	if on != day {
		fmt.Fprintf(f.out, "Nothing is planned for %s. Next:\n", day)
	}
	fmt.Fprintln(f.out, on)
	last := first
	for ; last < len(acts) && at(acts[last]).Format(time.DateOnly) == on; last++ {
		a := acts[last]
		fmt.Fprintf(f.out, "  %s  %s, %s (%s)\n", at(a).Format("15:04"), book.ActWords(r, a), unit.Duration(a.Step.To-a.Step.From), a.Task.Who)
	}
	f.wrapped("", "Take care. "+book.Care(acts[first:last]))
	return nil
}
