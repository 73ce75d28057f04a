package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"scalewright/build"
	"scalewright/build/keep"
	"scalewright/job"
	"scalewright/job/recipe"
	"scalewright/model"
)

type sizesCmd struct {
	Dir  string `arg:"" help:"Folder of the build." type:"path"`
	JSON bool   `name:"json" help:"Print one JSON object."`
}

type candidateJSON struct {
	Ratio      float64        `json:"ratio"`
	Because    string         `json:"because"`
	What       string         `json:"what,omitempty"`
	Length     float64        `json:"length_mm"`
	Pieces     int            `json:"pieces"`
	Hours      float64        `json:"hours"`
	BenchHours float64        `json:"bench_hours"`
	Mass       float64        `json:"mass_g"`
	Cost       float64        `json:"cost"`
	Likely     string         `json:"finish_p50"`
	Safe       string         `json:"finish_p90"`
	Stock      []stockGapJSON `json:"stock"`
	Blocked    string         `json:"blocked,omitempty"`
	Best       []string       `json:"best_of"`
}

type stockGapJSON struct {
	Feature string  `json:"feature"`
	Stock   string  `json:"stock"`
	Gap     float64 `json:"gap_mm"`
}

func (c *sizesCmd) Run(ctx context.Context, f *face) error {
	o, err := openBuild(c.Dir)
	if err != nil {
		return err
	}
	defer o.Close()
	all, declared, err := f.sizes(ctx, o)
	if err != nil {
		return err
	}
	if len(all) == 0 {
		f.print(o, declared.Findings)
		return errBlocked
	}
	if c.JSON {
		out := struct {
			Candidates []candidateJSON `json:"candidates"`
		}{}
		for _, k := range all {
			out.Candidates = append(out.Candidates, jsonOf(k))
		}
		return printJSON(f.out, out)
	}
	f.table(all, declared.Design.Shop.Currency)
	return nil
}

// sizes derives the build at every ratio worth weighing, remembering what it can.
func (f *face) sizes(ctx context.Context, o *opened) ([]model.Candidate, job.Result, error) {
	in := job.Input{
		Declared: o.loaded.Declared, Photo: o.loaded.Files[o.loaded.Declared.Reference.Photo], Marks: o.loaded.Marks,
		Outlines: o.loaded.Outlines, Models: o.loaded.Files, Events: o.loaded.Events, Kept: o.loaded.Kept, Seed: 1,
	}
	options := recipe.Options{}
	if kept, err := keep.Open(filepath.Join(o.Dir(), build.OutDir, ".keep"), keep.Options{}); err == nil {
		options.Keeper = kept
	}
	in.Memo = recipe.NewMemo(options)
	return job.Sizes(ctx, in)
}

func jsonOf(k model.Candidate) candidateJSON {
	out := candidateJSON{
		Ratio: k.Ratio, Because: k.Because, What: k.What, Length: float64(k.Length), Pieces: k.Pieces, Hours: k.Hours,
		BenchHours: k.BenchHours, Mass: float64(k.Mass), Cost: k.Cost, Likely: k.Likely, Safe: k.Safe, Blocked: k.Blocked,
		Best: append([]string{}, k.Best...), Stock: []stockGapJSON{},
	}
	for _, s := range k.Stock {
		out.Stock = append(out.Stock, stockGapJSON{s.Feature, s.Stock, float64(s.Gap)})
	}
	return out
}

// table prints the candidates, the best first.
func (f *face) table(all []model.Candidate, currency string) {
	w := tabwriter.NewWriter(f.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(w, "ratio\tlong\tprints\thours\tbench h\tkg\t%s\tlikely\tsafe\t  because\n", currency)
	for _, k := range all {
		if k.Blocked != "" {
			fmt.Fprintf(w, "%.3f\t%s\t–\t–\t–\t–\t–\t–\t–\t  %s; blocked: %s\n", k.Ratio, f.system.Whole(k.Length), reason(k), k.Blocked)
			continue
		}
		fmt.Fprintf(w, "%.3f\t%s\t%d\t%.0f\t%.0f\t%.1f\t%.0f\t%s\t%s\t  %s\n",
			k.Ratio, f.system.Whole(k.Length), k.Pieces, k.Hours, k.BenchHours, k.Mass.Kilograms(), k.Cost, k.Likely, k.Safe, reason(k))
	}
	_ = w.Flush() // to memory or a terminal
	fmt.Fprintln(f.out, "Hours, money and dates are estimates; bench hours a guess until you log.")
}

// reason is why a ratio is there, and what it is the best of.
func reason(k model.Candidate) string {
	words := map[string]string{
		"declared": "as declared", "round": "a round ratio", "stock": "a cylinder comes out as " + k.What,
		"printer": "the widest that " + k.What + " takes", "core": "the least that " + k.What + " goes through",
	}[k.Because]
	if len(k.Best) > 0 {
		words += "; " + strings.Join(k.Best, ", ")
	}
	return words
}
