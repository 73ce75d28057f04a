package foresee

import (
	"cmp"
	"context"
	"math"
	"slices"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Run ranks the risks.
func Run(_ context.Context, in Input) (Result, finding.List, error) {
	var all []model.Risk
	for _, risk := range []func() (model.Risk, bool){in.failing, in.binding, in.rattling, in.lip, in.wrongShape} {
		if r, ok := risk(); ok && r.Chance >= leastChance {
			all = append(all, r)
		}
	}
	slices.SortStableFunc(all, func(a, b model.Risk) int { return cmp.Compare(b.Expected(), a.Expected()) })
	return all, nil, nil
}

// worst of some risks; false when there are none.
func worst(all []model.Risk) (model.Risk, bool) {
	if len(all) == 0 {
		return model.Risk{}, false
	}
	// MaxFunc takes the first of equals, so the order of pieces decides.
	return slices.MaxFunc(all, func(a, b model.Risk) int { return cmp.Compare(a.Expected(), b.Expected()) }), true
}

// failing is the print that costs most if it fails.
func (in Input) failing() (model.Risk, bool) {
	rate := (failedBefore + float64(in.Failures)) / (hoursBefore + in.Hours)
	var all []model.Risk
	for i, p := range in.Prints {
		piece := in.Pieces[i]
		if slices.Contains(in.Printed, piece.ID.String()) {
			continue
		}
		hours := p.Minutes.Hours()
		chance := 1 - math.Exp(-rate*hours)
		all = append(all, model.Risk{
			Chance: chance, Hours: hours * (1 + lostShare),
			What: finding.New("print-may-fail", in.at(piece.ID.Part), finding.Args{
				"piece": finding.Name(piece.Name), "chance": percent(chance), "time": finding.Span(p.Minutes),
			}).About(piece.ID.Part).AtStation(piece.Span.From),
		})
	}
	return worst(all)
}

// binding is the joint most likely to need sanding.
func (in Input) binding() (model.Risk, bool) {
	return in.joint("joint-may-bind", easeHours, func(f model.Fit) float64 { return f.Bind })
}

// rattling is the joint most likely to be too loose to centre itself.
func (in Input) rattling() (model.Risk, bool) {
	return in.joint("joint-may-rattle", shimHours, func(f model.Fit) float64 { return f.Loose })
}

func (in Input) joint(code finding.Code, hours float64, chance func(model.Fit) float64) (model.Risk, bool) {
	var all []model.Risk
	for _, f := range in.Fits {
		part := in.partOf(f.Female)
		all = append(all, model.Risk{
			Chance: chance(f), Hours: hours,
			What: finding.New(code, in.at(part), finding.Args{
				"male": in.name(f.Male), "female": in.name(f.Female), "chance": percent(chance(f)),
				"clearance": finding.Fine(f.Clearance.X), "doubt": finding.Fine(two * f.Clearance.U),
			}).About(part).AtStation(f.Station),
		})
	}
	return worst(all)
}

// lip is the seam whose outer faces are most likely to stand apart.
func (in Input) lip() (model.Risk, bool) {
	var all []model.Risk
	for _, f := range in.Fits {
		if f.Step.X == 0 && f.Step.U == 0 {
			continue
		}
		chance := outside(lipFelt, f.Step)
		part := in.partOf(f.Female)
		all = append(all, model.Risk{
			Chance: chance, Hours: lipHours,
			What: finding.New("lip-may-show", in.at(part), finding.Args{
				"seam": finding.Name(f.Seam), "lip": finding.Fine(lipFelt), "chance": percent(chance),
			}).About(part).AtStation(f.Station),
		})
	}
	return worst(all)
}

// wrongShape is the chance that an audience sees the reference's doubt; it costs
// the pieces that lie there.
func (in Input) wrongShape() (model.Risk, bool) {
	across := 2 * in.Outline.RadiusAt(float64(in.Error.Station))
	if in.Error.U == 0 || across == 0 {
		return model.Risk{}, false
	}
	chance := outside(seenShare*across/2, unit.Value{U: float64(in.Error.U)})
	risk := model.Risk{Chance: chance}
	part := ""
	for i, p := range in.Pieces {
		if p.Span.Holds(in.Error.Station) {
			risk.Hours += in.Prints[i].Minutes.Hours()
			part = cmp.Or(part, p.ID.Part)
		}
	}
	risk.What = finding.New("shape-may-be-off", in.at(part), finding.Args{
		"off": finding.Fine(two * in.Error.U), "chance": percent(chance), "seen": finding.Fine(seenShare * across / 2),
	}).About(part).AtStation(in.Error.Station)
	return risk, true
}

// two standard uncertainties: 95 times in 100 a normal value lies within.
const two = 2.0

// outside is the chance that a normal value lies more than x from 0.
func outside(x float64, v unit.Value) float64 {
	if v.U == 0 {
		if math.Abs(v.X) > x {
			return 1
		}
		return 0
	}
	above := 0.5 * math.Erfc((x-v.X)/(v.U*math.Sqrt2))
	below := 0.5 * math.Erfc((x+v.X)/(v.U*math.Sqrt2))
	return above + below
}

// percent is a chance as times in a hundred, to a figure that helps.
func percent(p float64) finding.Number {
	times := 100 * p
	if times >= 1 {
		return finding.Number(math.Round(times))
	}
	return finding.Number(math.Round(times*10) / 10)
}

func (in Input) at(part string) finding.Place {
	for _, p := range in.Parts {
		if p.ID == part {
			return p.At
		}
	}
	return finding.Place{}
}

// name is a piece's name for people; the core has none but its own.
func (in Input) name(id string) finding.Name {
	for _, p := range in.Pieces {
		if p.ID.String() == id {
			return finding.Name(p.Name)
		}
	}
	return finding.Name("the " + id)
}

func (in Input) partOf(id string) string {
	for _, p := range in.Pieces {
		if p.ID.String() == id {
			return p.ID.Part
		}
	}
	return ""
}
