package main

import (
	"context"
	"fmt"
	"text/tabwriter"

	"scalewright/book"
	"scalewright/job"
	"scalewright/model"
)

type sizesCmd struct {
	Dir  string `arg:"" help:"Folder of the build." type:"path"`
	JSON bool   `name:"json" help:"Print one JSON object."`
}

func (c *sizesCmd) Run(ctx context.Context, f *face) error {
	o, err := openBuild(c.Dir)
	if err != nil {
		return err
	}
	defer o.Close()
	in := o.input()
	declared, err := f.deriveFrom(ctx, o, in)
	if err != nil {
		return err
	}
	all, err := job.Sizes(ctx, in, declared)
	if err != nil {
		return err
	}
	if len(all) == 0 {
		f.print(o, declared.Findings)
		return errBlocked
	}
	if c.JSON {
		return printJSON(f.out, map[string]any{"candidates": book.Sizes(all)})
	}
	f.table(all, declared.Design.Shop.Currency)
	return nil
}

// table prints the candidates, the best first.
func (f *face) table(all []model.Candidate, currency string) {
	w := tabwriter.NewWriter(f.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(w, "ratio\tlong\tprints\thours\tbench h\tkg\t%s\tlikely\tsafe\t  because\n", currency)
	for _, k := range all {
		if k.Blocked != "" {
			fmt.Fprintf(w, "%.3f\t%s\t–\t–\t–\t–\t–\t–\t–\t  %s; blocked: %s\n", k.Ratio, f.system.Whole(k.Length), k.Reason(), k.Blocked)
			continue
		}
		fmt.Fprintf(w, "%.3f\t%s\t%d\t%.0f\t%.0f\t%.1f\t%.0f\t%s\t%s\t  %s\n",
			k.Ratio, f.system.Whole(k.Length), k.Pieces, k.Hours, k.BenchHours, k.Mass.Kilograms(), k.Cost, k.Likely, k.Safe, k.Reason())
	}
	_ = w.Flush() // to memory or a terminal
	fmt.Fprintln(f.out, "Hours, money and dates are estimates; bench hours a guess until you log.")
}
