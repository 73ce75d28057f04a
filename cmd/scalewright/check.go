package main

import (
	"context"
	"errors"
	"fmt"

	"scalewright/book"
	"scalewright/build"
	"scalewright/finding"
)

type checkCmd struct {
	Dir  string `arg:"" help:"Folder of the build."`
	JSON bool   `name:"json" help:"Print one JSON object."`
}

func (c *checkCmd) Run(ctx context.Context, f *face) error {
	o, err := openBuild(c.Dir)
	if unread, ok := errors.AsType[*build.Unreadable](err); ok && c.JSON {
		// The mistakes of form are findings too, and scripts want them as such.
		w := finding.Writer{System: f.system, Locate: unread.Locate}
		return errors.Join(printFindings(f, unread.Findings, w), err)
	}
	if err != nil {
		return err
	}
	defer o.Close()
	result, err := f.derive(ctx, o)
	if err != nil {
		return err
	}
	if c.JSON {
		err = printFindings(f, result.Findings, f.writer(o))
	} else {
		f.print(o, result.Findings)
	}
	if err == nil && result.Blocked() {
		err = errBlocked
	}
	return err
}

func printFindings(f *face, found finding.List, w finding.Writer) error {
	return printJSON(f.out, struct {
		Findings []book.Finding `json:"findings"`
	}{book.Findings(found, w)})
}

// print writes findings as a compiler does, and their count.
func (f *face) print(o *opened, found finding.List) {
	w := f.writer(o)
	for _, one := range found {
		w.Print(f.out, one)
	}
	fmt.Fprintf(f.out, "%s, %s, %s\n", count(found.Count(finding.Blocker), "blocker"),
		count(found.Count(finding.Caution), "caution"), count(found.Count(finding.Note), "note"))
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
