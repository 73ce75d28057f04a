package main

import (
	"context"
	"fmt"
	"time"

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
	result, err := f.derive(ctx, o)
	if err != nil {
		return err
	}
	if result.Blocked() {
		f.print(o, result.Findings)
		return errBlocked
	}
	return f.today(result.Calendar, day)
}

// today lists the acts of a day; when none is planned for it, of the next day
// that has any.
func (f *face) today(plan calendar.Result, day string) error {
	start, err := time.Parse(time.DateOnly, plan.Start)
	if err != nil {
		return fmt.Errorf("read the start date: %w", err)
	}
	acts := calendar.Acts(plan)
	first := -1
	for i, a := range acts {
		if start.Add(time.Duration(a.At)*time.Minute).Format(time.DateOnly) >= day {
			first = i
			break
		}
	}
	if first < 0 {
		fmt.Fprintln(f.out, "Nothing is planned any more.")
		return nil
	}
	on := start.Add(time.Duration(acts[first].At) * time.Minute).Format(time.DateOnly)
	if on != day {
		fmt.Fprintf(f.out, "Nothing is planned for %s. Next:\n", day)
	}
	fmt.Fprintln(f.out, on)
	for _, a := range acts[first:] {
		at := start.Add(time.Duration(a.At) * time.Minute)
		if at.Format(time.DateOnly) != on {
			break
		}
		fmt.Fprintf(f.out, "  %s  %s, %s (%s)\n", at.Format("15:04"), a.Do, unit.Duration(a.Minutes), a.Who)
	}
	return nil
}
