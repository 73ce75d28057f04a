package finishing

import (
	"math"
	"slices"

	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// needs are putty, cans and paper for all that is seen, and what they come to.
func (w *work) needs(out *model.Finishing) {
	filler, area, primed := 0.0, 0.0, 0.0
	for _, r := range w.routes {
		filler += r.Filler
		area += r.Area / square
		primed += r.Area / square * float64(r.Cycles)
	}
	if filler > 0 {
		out.Needs = append(out.Needs, priced(model.Need{Coating: "putty", Area: area, Volume: filler}, filler/tube))
	}
	covered := func(n model.Need) {
		if n.Area > 0 {
			out.Needs = append(out.Needs, priced(n, n.Area/stock.MustCoating(n.Coating).Covers))
		}
	}
	covered(model.Need{Coating: "primer", Area: primed})
	covered(model.Need{Coating: "colour", Area: area * float64(w.Finish.Colour)})
	covered(model.Need{Coating: "clear", Area: area * float64(w.Finish.Clear)})
	grits := make([]int, 0, len(w.paper))
	for grit := range w.paper {
		grits = append(grits, grit)
	}
	slices.Sort(grits)
	for _, grit := range grits {
		covered(model.Need{Coating: "paper", Grit: grit, Area: w.paper[grit]})
	}
	out.Currency = stock.PriceCurrency
	for _, n := range out.Needs {
		out.Money += n.Money
	}
}

// priced buys whole units.
func priced(n model.Need, units float64) model.Need {
	n.Units = int(math.Ceil(units))
	n.Money = float64(n.Units) * stock.MustCoating(n.Coating).Price
	return n
}

// film is what all coats add to a face: half of the primer is sanded off again.
func (w *work) film(cycles int) unit.Length {
	primer := stock.MustCoating("primer").Film * unit.Length(cycles) * passes / 2
	return primer + stock.MustCoating("colour").Film*unit.Length(w.Finish.Colour) + stock.MustCoating("clear").Film*unit.Length(w.Finish.Clear)
}

// filler is the putty of a group, ml: a groove along each glued seam, a wedge that
// takes out the lip beside it, and some of the stairs. The wedge of a lip s is
// feather·s²/2 across, and s² is expected to be x² + u².
func (w *work) filler(g model.Group, stairs float64) float64 {
	sum := stairs * puttied
	for _, id := range g.Seams {
		for _, s := range w.Division.Seams {
			if s.ID != id {
				continue
			}
			squared := 0.0
			for _, f := range w.Fits.Of(id) {
				squared = max(squared, f.Step.X*f.Step.X+f.Step.U*f.Step.U)
			}
			// mm² across times a metre is as many ml.
			sum += w.seamLength(s) / 1000 * (seamPutty + feather*squared/2)
		}
	}
	return sum
}
