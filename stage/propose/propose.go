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
	Wall     unit.Length // of the slimmest part that the core runs through
	Printers []model.Printer
}

const (
	leastShare = 0.6  // of the declared ratio
	mostShare  = 1.7  // of it
	same       = 0.01 // ratios nearer than this share are one
	most       = 9    // proposals
	cylinder   = 0.05 // of the length, that a cylinder takes to be a feature
	straight   = 0.01 // of its length, that a cylinder's radius may change by
	coreRoom   = 2.0  // mm on the diameter between core and wall
)

// Run proposes ratios.
func Run(_ context.Context, in Input) ([]model.Proposal, finding.List, error) {
	if len(in.Outline) == 0 || in.Ratio <= 0 {
		return []model.Proposal{{Ratio: in.Ratio, Because: "declared"}}, nil, nil
	}
	all := []model.Proposal{{Ratio: in.Ratio, Because: "declared"}}
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
	add(in.coreFits(), "core", in.coreName())
	for _, p := range in.Printers {
		bed := float64(min(p.Build[0], p.Build[1]) - 2*p.Margin)
		add(bed/(2*in.Outline.MaxRadius()), "printer", p.Name)
	}
	for _, c := range Cylinders(in.Outline) {
		for _, pipe := range stock.Pipes() {
			if !pipe.Rod() {
				add(float64(pipe.OD+pipe.ODMost)/2/(2*c.From.Radius), "stock", pipe.ID)
			}
		}
	}
	for n := math.Ceil(leastShare * in.Ratio); n <= mostShare*in.Ratio; n++ {
		add(n, "round", "")
	}
	// The declared one stays, and what is best founded; then what lies nearest to it.
	slices.SortStableFunc(all[1:], func(a, b model.Proposal) int {
		return cmp.Or(cmp.Compare(rank[a.Because], rank[b.Because]), cmp.Compare(math.Abs(math.Log(a.Ratio/in.Ratio)), math.Abs(math.Log(b.Ratio/in.Ratio))))
	})
	all = all[:min(len(all), most)]
	slices.SortFunc(all, func(a, b model.Proposal) int { return cmp.Compare(a.Ratio, b.Ratio) })
	return all, nil, nil
}

var rank = map[string]int{"core": 0, "printer": 0, "round": 1, "stock": 2}

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

// coreFits is the least ratio at which the core goes through inside its walls; 0
// without a core.
func (in Input) coreFits() float64 {
	if in.Core == nil || in.Core.From.Owner != unit.OfReference || in.Core.To.Owner != unit.OfReference {
		return 0
	}
	pipe, ok := stock.FindPipe(in.Core.Stock)
	narrow := model.LowestBetween(in.Outline.Polyline(0.01), in.Core.From.MM, in.Core.To.MM)
	if !ok || narrow <= 0 {
		return 0
	}
	// The hundredth on top keeps it off the very limit.
	return (float64(pipe.Widest()) + 2*float64(in.Wall) + coreRoom) / (2 * narrow) * 1.01
}

func (in Input) coreName() string {
	if in.Core == nil {
		return ""
	}
	return in.Core.Stock
}
