package propose

import (
	"cmp"
	"context"
	"math"
	"slices"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// Input is what the proposals come from.
type Input struct {
	Outline  model.Outline // mm of the reference
	Ratio    float64       // declared, or what the declared length comes to
	Core     *model.DeclaredCore
	Walls    []Wall
	Printers []model.Printer
}

// Wall is a part of the body: its stretch of the reference, mm, and how thick its
// wall is at any size.
type Wall struct {
	From, To float64
	Thick    unit.Length
}

const (
	leastShare = 0.6  // of the declared ratio
	mostShare  = 1.7  // of it
	same       = 0.01 // ratios nearer than this share are one
	most       = 9    // proposals
	cylinder   = 0.05 // of the length, that a cylinder takes to be a feature
	straight   = 0.01 // of its length, that a cylinder's radius may change by
	coreRoom   = 2.0  // mm on the diameter between core and wall
	inside     = 0.01 // share that keeps a ratio off the very limit that it comes from
)

// Run proposes ratios.
func Run(_ context.Context, in Input) ([]model.Proposal, finding.List, error) {
	if len(in.Outline) == 0 || in.Ratio <= 0 {
		return []model.Proposal{{Ratio: in.Ratio, Because: model.BecauseDeclared}}, nil, nil
	}
	all := []model.Proposal{{Ratio: in.Ratio, Because: model.BecauseDeclared}}
	add := func(ratio float64, because, what string) {
		if ratio < leastShare*in.Ratio || ratio > mostShare*in.Ratio {
			return
		}
		for _, p := range all {
			if math.Abs(p.Ratio-ratio) < same*ratio {
				return
			}
		}
		all = append(all, model.Proposal{Ratio: ratio, Because: because, What: what})
	}
	add(in.coreFits(), model.BecauseCore, in.coreName())
	for _, p := range in.Printers {
		add(in.goesOn(p), model.BecausePrinter, p.Name)
	}
	for _, c := range Cylinders(in.Outline) {
		for _, pipe := range stock.Pipes() {
			if !pipe.Rod() {
				add(float64(pipe.OD+pipe.ODMost)/2/(2*c.From.Radius), model.BecauseStock, pipe.ID)
			}
		}
	}
	step := in.step()
	for n := math.Ceil(leastShare * in.Ratio / step); n*step <= mostShare*in.Ratio; n++ {
		if len(in.Printers) == 0 || n*step <= in.widest() {
			add(n*step, model.BecauseRound, "")
		}
	}
	// The declared one stays, and what is best founded; then what lies nearest to it.
	slices.SortStableFunc(all[1:], func(a, b model.Proposal) int {
		return cmp.Or(cmp.Compare(rank[a.Because], rank[b.Because]), cmp.Compare(math.Abs(math.Log(a.Ratio/in.Ratio)), math.Abs(math.Log(b.Ratio/in.Ratio))))
	})
	all = all[:min(len(all), most)]
	slices.SortFunc(all, func(a, b model.Proposal) int { return cmp.Compare(a.Ratio, b.Ratio) })
	return all, nil, nil
}

var rank = map[string]int{model.BecauseCore: 0, model.BecausePrinter: 0, model.BecauseRound: 1, model.BecauseStock: 2}

// Cylinders are the stretches of an outline whose radius is the same throughout.
func Cylinders(o model.Outline) []model.Segment {
	var out []model.Segment
	if len(o) == 0 {
		return nil
	}
	for _, s := range o {
		long := s.To.Station - s.From.Station
		if s.Kind == model.Line && long >= cylinder*(o.End()-o.Start()) && math.Abs(s.To.Radius-s.From.Radius) <= straight*long {
			out = append(out, s)
		}
	}
	return out
}

// coreFits is the least ratio at which the core goes through inside the wall of
// every part; 0 without a core.
func (in Input) coreFits() float64 {
	if in.Core == nil || in.Core.From.Owner != unit.OfReference || in.Core.To.Owner != unit.OfReference {
		return 0
	}
	pipe, ok := stock.FindPipe(in.Core.Stock)
	if !ok {
		return 0
	}
	line, least := in.Outline.Polyline(sag), 0.0
	for _, w := range in.Walls {
		// Just inside: at a step between two parts the outline is the other's as well.
		from, to := max(w.From+sag, in.Core.From.MM), min(w.To-sag, in.Core.To.MM)
		if from >= to {
			continue
		}
		narrow := model.LowestBetween(line, from, to)
		if narrow <= 0 {
			return 0
		}
		least = max(least, (float64(pipe.Widest()+2*w.Thick)+coreRoom)/(2*narrow))
	}
	return least * (1 + inside)
}

// sag is how near the chords keep to the outline's arcs, mm of the reference.
const sag = 0.01

// goesOn is the largest ratio at which the widest place goes onto a printer.
func (in Input) goesOn(p model.Printer) float64 {
	bed := float64(min(p.Build[0], p.Build[1]) - 2*p.Margin)
	return bed / (2 * in.Outline.MaxRadius()) * (1 - inside)
}

func (in Input) widest() float64 {
	most := 0.0
	for _, p := range in.Printers {
		most = max(most, in.goesOn(p))
	}
	return most
}

// step is between round ratios: halves, whole numbers or fives by their size.
func (in Input) step() float64 {
	switch {
	case in.Ratio < 10:
		return 0.5
	case in.Ratio < 50:
		return 1
	}
	return 5
}

func (in Input) coreName() string {
	if in.Core == nil {
		return ""
	}
	return in.Core.Stock
}
