package main

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"time"

	"scalewright/book"
	"scalewright/build"
	"scalewright/job"
)

type makeCmd struct {
	Dir string `arg:"" help:"Folder of the build."`
	Out string `help:"Folder for the results; out/ in the build's folder if not given." type:"path"`
}

func (c *makeCmd) Run(ctx context.Context, f *face) error {
	o, err := openBuild(c.Dir)
	if err != nil {
		return err
	}
	defer o.Close()
	out, err := o.Out(c.Out)
	if err != nil {
		return err
	}
	defer out.Abort()
	in := o.input()
	result, err := f.deriveFrom(ctx, o, in)
	if err != nil {
		return err
	}
	if !result.Blocked() && len(in.Kept) == 0 { // once a piece is made the size is settled
		if result.Sizes, err = job.Sizes(ctx, in, result); err != nil {
			return err
		}
	}
	options := book.Options{System: f.system, Locate: o.loaded.Locate, Date: buildDate(o)}
	where := c.Out
	if where == "" {
		where = filepath.Join(c.Dir, build.OutDir)
	}
	if result.Blocked() {
		var report bytes.Buffer
		if err := book.ReportJSON(&report, result, options); err != nil {
			return err
		}
		if err := out.MarkStale(report.Bytes()); err != nil {
			return err
		}
		f.print(o, result.Findings)
		return errBlocked
	}
	if err := book.Write(ctx, out, result, options); err != nil {
		return err
	}
	if err := out.Commit(); err != nil {
		return err
	}
	f.print(o, result.Findings)
	fmt.Fprintln(f.out)
	f.verdict(result)
	fmt.Fprintf(f.out, "\nThe build book, the print files and everything else are in %s\n", where)
	return nil
}

// buildDate dates what is written: the day the calendar begins, so that the same
// build gives the same bytes.
func buildDate(o *opened) time.Time {
	day, err := time.Parse(time.DateOnly, o.loaded.Declared.Calendar.Start)
	if err != nil {
		panic("scalewright: internal error: " + err.Error())
	}
	return day
}
