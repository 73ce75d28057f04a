package main

import (
	"context"
	"encoding/json"
	"fmt"

	"scalewright/book"
	"scalewright/finding"
)

type checkCmd struct {
	Dir  string `arg:"" help:"Folder of the build."`
	JSON bool   `name:"json" help:"Print one JSON object."`
}

func (c *checkCmd) Run(ctx context.Context, f *face) error {
	o, err := openBuild(c.Dir)
	if err != nil {
		return err
	}
	defer o.Close()
	result, err := f.derive(ctx, o)
	if err != nil {
		return err
	}
	if c.JSON {
		encoder := json.NewEncoder(f.out)
		encoder.SetIndent("", "  ")
		err = encoder.Encode(struct {
			Findings []book.Finding `json:"findings"`
		}{book.Findings(result.Findings, f.writer(o))})
	} else {
		f.print(o, result.Findings)
	}
	if err == nil && result.Blocked() {
		err = errBlocked
	}
	return err
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
