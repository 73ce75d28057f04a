package job

import (
	"context"
	"fmt"
	"math"
	"slices"

	"scalewright/finding"
	"scalewright/job/recipe"
	"scalewright/model"
	"scalewright/stage/propose"
	"scalewright/stage/weigh"
	"scalewright/stock"
	"scalewright/unit"
)

// Sizes derives the build at each ratio worth weighing and ranks them. What the
// photograph says is measured once.
func Sizes(ctx context.Context, in Input) ([]model.Candidate, Result, error) {
	in.Progress = nil
	declared, err := Run(ctx, in)
	if err != nil || declared.Enlarge.Ratio == 0 {
		return nil, declared, err
	}
	proposals, _, err := propose.Run(ctx, propose.Input{
		Outline: declared.Trace.Outline, Ratio: declared.Enlarge.Ratio, Core: in.Declared.Core,
		Wall: slimmest(declared.Design), Printers: declared.Design.Shop.Printers,
	})
	if err != nil {
		return nil, declared, err
	}
	var ratios []float64
	for _, p := range proposals {
		ratios = append(ratios, p.Ratio)
	}
	derived := recipe.Derive(ctx, ratios, func(ctx context.Context, ratio float64) (Result, error) {
		at := in
		at.Kept, at.Events = nil, nil // nothing is made at another size
		at.Declared.Enlarge = model.DeclaredEnlarge{At: in.Declared.Enlarge.At, Ratio: ratio}
		return Run(ctx, at)
	})
	var all []model.Candidate
	for i, d := range derived {
		if d.Err != nil {
			return nil, declared, fmt.Errorf("at %.3g: %w", d.Ratio, d.Err)
		}
		all = append(all, candidate(proposals[i], d.Value))
	}
	ranked, _, err := weigh.Run(ctx, all)
	return ranked, declared, err
}

// slimmest is the least wall of the body's parts.
func slimmest(d model.Design) unit.Length {
	wall := unit.Length(math.Inf(1))
	for _, p := range d.Parts {
		if p.OnBody() {
			wall = min(wall, p.Wall)
		}
	}
	if math.IsInf(float64(wall), 1) {
		return 0
	}
	return wall
}

// candidate is what a ratio takes; where a blocker stands in the way, its code.
func candidate(p model.Proposal, r Result) model.Candidate {
	v := r.Verdict
	c := model.Candidate{
		Proposal: p, Length: unit.Length(r.Enlarge.Length.X), Pieces: v.Prints, Hours: v.PrintHours, BenchHours: v.BenchHours,
		Mass: v.Grams, Cost: v.Money, Likely: r.Calendar.Likely, Safe: r.Calendar.Safe, Stock: gaps(r, p.Ratio),
	}
	if k := slices.IndexFunc(r.Findings, func(f finding.Finding) bool { return f.Severity == finding.Blocker }); k >= 0 {
		c.Blocked = string(r.Findings[k].Code)
	}
	return c
}

// nearStock is how near to a pipe a cylinder comes to be worth a word, mm on the
// diameter.
const nearStock = 3.0

// gaps are the cylinders of the reference that come out near to a stock pipe.
func gaps(r Result, ratio float64) []model.StockGap {
	var out []model.StockGap
	for _, s := range propose.Cylinders(r.Trace.Outline) {
		across := 2 * s.From.Radius * ratio
		for _, pipe := range stock.Pipes() {
			gap := across - float64(pipe.OD+pipe.ODMost)/2
			if !pipe.Rod() && math.Abs(gap) <= nearStock {
				out = append(out, model.StockGap{
					Feature: fmt.Sprintf("cylinder from %.0f to %.0f mm of the reference", s.From.Station, s.To.Station),
					Stock:   pipe.ID, Gap: unit.Length(gap),
				})
			}
		}
	}
	return out
}
