package server

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"strconv"

	"scalewright/build"
	"scalewright/finding"
	"scalewright/job"
	"scalewright/job/recipe"
	"scalewright/lane"
	"scalewright/model"
	"scalewright/unit"
)

// sizing is the weighing of other sizes, which takes many times what one does: done
// once for a result, when somebody asks.
type sizing struct {
	of   *shown
	done chan struct{}
	all  []model.Candidate
	err  error
}

// sizesOf weighs the sizes of a result, or waits for who does it already. Whoever
// asks may leave; the work goes on for the next.
func (d *desk) sizesOf(ctx context.Context, s *shown) ([]model.Candidate, error) {
	d.mu.Lock()
	z := d.sizes
	if z == nil || z.of != s {
		z = &sizing{of: s, done: make(chan struct{})}
		if d.closed {
			d.mu.Unlock()
			return nil, context.Canceled
		}
		d.sizes = z
		d.work.Go(func() {
			defer close(z.done)
			z.all, z.err = recipe.Guard("sizes", func() ([]model.Candidate, error) {
				return job.Sizes(d.until, d.inputOf(s.loaded), s.result)
			})
		})
	}
	d.mu.Unlock()
	select {
	case <-z.done:
		return z.all, z.err
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

func sizes(ctx context.Context, d *desk, in seenIn) (Sizes, error) {
	s, asOf, err := d.see(ctx, throughAll)
	if err != nil {
		return Sizes{}, err
	}
	out := Sizes{AsOf: asOf, Candidates: []Candidate{}}
	if len(s.loaded.Kept) > 0 {
		out.Settled = "a piece is made, so the size is settled"
		return out, nil
	}
	all, err := d.sizesOf(ctx, s)
	if err != nil {
		return out, err
	}
	w := finding.Writer{System: in.system()}
	for _, c := range all {
		one := Candidate{
			Ratio: c.Ratio, Says: c.Reason(), Length: in.system().Whole(c.Length), Now: c.Because == model.BecauseDeclared,
			Edit: sizeEdit(s.loaded.Declared.Enlarge, c),
			Totals: Totals{
				Overall: hundredth(float64(c.Length)), Prints: c.Pieces, Mass: hundredth(float64(c.Mass)), Money: hundredth(c.Cost),
				PrintHours: hundredth(c.Hours), BenchHours: hundredth(c.BenchHours), Likely: c.Likely, Safe: c.Safe,
			},
		}
		one.Spools, one.Together, one.WayIn = c.Spools, hundredth(c.Together), wayWords(c)
		for _, g := range c.Stock {
			one.Core = fmt.Sprintf("%s comes out as %s, %s off", g.Feature, g.Stock, unit.Metric.Fine(g.Gap))
		}
		if c.Blocked != "" {
			one.Blocked = w.Message(c.Obstacle)
		}
		out.Candidates = append(out.Candidates, one)
	}
	return out, nil
}

// wayWords is how a size comes in, in words.
func wayWords(c model.Candidate) string {
	switch c.WayIn {
	case model.WayWhole:
		return "whole"
	case model.WayApart:
		return "taken apart"
	case model.WayNone:
		return "not through " + c.Narrow
	}
	return ""
}

// sizeEdit takes a candidate's size, by the way in which the size is declared.
func sizeEdit(is model.DeclaredEnlarge, c model.Candidate) Change {
	if is.Ratio > 0 {
		return Change{Op: "put", At: Place{build.BuildFile, "enlarge.ratio"}, Text: strconv.FormatFloat(c.Ratio, 'g', 6, 64)}
	}
	return Change{Op: "put", At: Place{build.BuildFile, "enlarge.length"}, Text: unit.Shop(math.Round(float64(c.Length)*10) / 10).Text}
}

// sizesDrawing is the candidates as silhouettes on one floor.
func sizesDrawing(ctx context.Context, d *desk, in drawingIn) (Drawing, error) {
	s, asOf, err := d.see(ctx, throughAll)
	if err != nil {
		return Drawing{}, err
	}
	if len(s.loaded.Kept) > 0 {
		return Drawing{}, &Problem{Status: http.StatusConflict, What: "a piece is made, so the size is settled"}
	}
	all, err := d.sizesOf(ctx, s)
	if err != nil {
		return Drawing{}, err
	}
	r := s.result
	r.Sizes = all
	scene, n := lane.Candidates(r, in.Width, in.Height, in.system())
	out := Drawing{AsOf: asOf, Scale: n, Scene: sceneOf(scene)}
	if n > 0 {
		out.Says = lane.ScaleText(n)
	}
	return out, nil
}
