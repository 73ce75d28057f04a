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

// Sizes derives the build, declared as it came out of in, at each other ratio worth
// weighing and ranks them. What the photograph says is measured once, where in
// remembers.
func Sizes(ctx context.Context, in Input, declared Result) ([]model.Candidate, error) {
	in.Progress, in.Reached = nil, nil
	if declared.Enlarge.Ratio == 0 {
		return nil, nil
	}
	proposals, _, err := propose.Run(ctx, propose.Input{
		Outline: declared.Trace.Outline, Ratio: declared.Enlarge.Ratio, Core: in.Declared.Core,
		Walls: walls(declared), Printers: declared.Design.Shop.Printers,
	})
	if err != nil {
		return nil, err
	}
	var ratios []float64
	for _, p := range proposals {
		ratios = append(ratios, p.Ratio)
	}
	derived := recipe.Derive(ctx, ratios, func(ctx context.Context, ratio float64) (Result, error) {
		if ratio == declared.Enlarge.Ratio {
			return declared, nil
		}
		at := in
		at.Kept, at.Events = nil, anySize(in.Events) // nothing is made at another size
		at.Declared.Enlarge = model.DeclaredEnlarge{At: in.Declared.Enlarge.At, Ratio: ratio}
		return Run(ctx, at)
	})
	var all []model.Candidate
	for i, d := range derived {
		if d.Err != nil {
			return nil, fmt.Errorf("at %.3g: %w", d.Ratio, d.Err)
		}
		all = append(all, candidate(proposals[i], d.Value))
	}
	ranked, _, err := weigh.Run(ctx, all)
	return ranked, err
}

// anySize are the events that say something at every size: what printers measured.
func anySize(events []model.Event) []model.Event {
	var out []model.Event
	for _, e := range events {
		if e.Kind == model.Measured || e.Kind == model.Withdrawn {
			out = append(out, e)
		}
	}
	return out
}

// walls are the body's parts as stretches of the reference.
func walls(r Result) []propose.Wall {
	var out []propose.Wall
	for _, p := range r.Design.Parts {
		if p.OnBody() {
			out = append(out, propose.Wall{
				From: float64(p.Span.From) / r.Enlarge.Ratio, To: float64(p.Span.To) / r.Enlarge.Ratio, Thick: p.Wall,
			})
		}
	}
	return out
}

// candidate is what a ratio takes; where a blocker stands in the way, its code.
func candidate(p model.Proposal, r Result) model.Candidate {
	v := r.Verdict
	c := model.Candidate{
		Proposal: p, Length: unit.Length(r.Enlarge.Length.X), Pieces: v.Prints, Hours: v.PrintHours, BenchHours: v.BenchHours,
		Mass: v.Grams, Cost: v.Money, Likely: r.Calendar.Likely, Safe: r.Calendar.Safe, Stock: gaps(r, p.Ratio),
	}
	if k := slices.IndexFunc(r.Findings, func(f finding.Finding) bool { return f.Severity == finding.Blocker }); k >= 0 {
		c.Blocked, c.Obstacle = string(r.Findings[k].Code), r.Findings[k]
	}
	if v.Prints > 0 {
		c.Spools, c.Together = v.Spools, v.Together
		c.WayIn, c.Narrow = wayIn(r)
	}
	return c
}

// wayIn is what structure found of the doors and lifts; the worst counts.
func wayIn(r Result) (model.WayIn, string) {
	if r.Design.Site == nil || len(r.Design.Site.Passages) == 0 {
		return model.WayUnknown, ""
	}
	way := model.WayWhole
	for _, f := range r.Findings {
		switch f.Code {
		case "way-narrow", "way-glued":
			return model.WayNone, fmt.Sprint(f.Args["way"])
		case "way-apart":
			way = model.WayApart
		}
	}
	return way, ""
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
