package structure

import (
	"math"
	"sort"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// standing tips the build on its stand, pushes it, and bends the post.
func (in Input) standing(s *model.Structure) finding.List {
	stand := *in.Stand
	out := &s.Stand
	out.Base = unit.Mass(in.footing(stand.Across, stand.Ballast).grams)
	out.Height = stand.Thick + stand.Below + in.Length
	out.Needs = in.needs()
	found := in.fitsPost()
	held := in.held(*s)
	out.Rings = held.rings
	out.Lean = unit.Length(held.lean())
	tip := in.tipping(*s, stand.Across, stand.Ballast)
	out.Middle, out.Tips, out.Push, out.PushAt, out.PushTips = unit.Length(tip.middle), tip.angle, tip.push, tip.at, tip.tips
	out.Floor = tip.grams / 1000 / in.area(stand.Across)
	arm := float64(out.PushAt - stand.Thick)
	out.Sway = unit.Length(held.sway(out.Push, arm, false))
	out.Rings.Bears = held.presses(out.Push, arm)
	out.Stress, out.Allows = out.Push*arm/held.section.Z(), stand.Post.Substance().Strength/factor
	out.CoreStress, out.CoreAllows = held.coreStress(out.Push, arm)

	if tip.falls(out.Needs) {
		found.Add(in.tips(*s, tip))
	}
	if out.Stress > out.Allows {
		found.Add(finding.New("post-weak", stand.At, finding.Args{
			"post": finding.Name(stand.Post.Name), "stress": finding.Number(out.Stress), "allows": finding.Number(out.Allows),
			"push": finding.Number(math.Ceil(out.Push)),
		}))
	}
	if out.CoreStress > out.CoreAllows {
		found.Add(finding.New("core-weak", in.Core.At, finding.Args{
			"core": finding.Name(in.Core.Stock.Name), "stress": finding.Number(out.CoreStress), "allows": finding.Number(out.CoreAllows),
			"push": finding.Number(math.Ceil(out.Push)),
		}).AtStation(in.Core.Span.From + stand.Engage))
	}
	if out.Sway > out.Height/swayShare {
		found.Add(finding.New("sways", stand.At, finding.Args{
			"sway": finding.Size(out.Sway), "limit": finding.Size(out.Height / swayShare), "push": finding.Number(math.Ceil(out.Push)),
			"post": finding.Name(stand.Post.Name),
		}))
	}
	found.Add(held.leans(out.Height, stand)...)
	if in.Site != nil && in.Site.Bears > 0 && out.Floor > in.Site.Bears {
		found.Add(in.presses(*s))
	}
	return found
}

// presses says that the floor bears less than stands on it. A wider base spreads the
// load but for its own plate's.
func (in Input) presses(s model.Structure) finding.Finding {
	bears := finding.Number(in.Site.Bears)
	// mm · g/cm³ = kg/m².
	if plate := float64(in.Stand.Thick) * in.Stand.Density; plate >= in.Site.Bears {
		return finding.New("base-presses", in.Site.At, finding.Args{
			"plate": finding.Number(math.Ceil(plate)), "bears": bears,
			"thick": finding.Size(unit.Length(math.Floor(in.Site.Bears / in.Stand.Density))),
		})
	}
	return finding.New("floor-weak", in.Site.At, finding.Args{
		"load": finding.Number(math.Ceil(s.Stand.Floor)), "bears": bears, "wide": finding.Long(in.spreads(s)),
	})
}

// spreads is how wide the base has to be for the floor to bear it; a wider one
// weighs more.
func (in Input) spreads(s model.Structure) unit.Length {
	return in.across(func(wide unit.Length) bool {
		return in.tipping(s, wide, in.Stand.Ballast).grams/1000/in.area(wide) <= in.Site.Bears
	})
}

// degrees are an angle for people, to a tenth.
func degrees(angle float64) finding.Number {
	return finding.Number(math.Round(angle*1800/math.Pi) / 10)
}

// needs is the angle that the build must bear.
func (in Input) needs() float64 {
	if in.Site != nil && in.Site.Reach == model.Touches {
		return crowdNeeds * math.Pi / 180
	}
	return tableNeeds * math.Pi / 180
}

// push is the force that the build must bear, and at what height: the standard's,
// or the public's where that overturns more.
func (in Input) push(weight, height float64) (float64, unit.Length) {
	force, at := math.Min(pushShare*weight, pushMost), math.Min(pushHigh, height)
	lean := 0.0
	if in.Site != nil {
		lean = map[model.Reach]float64{model.Touches: leanTouch, model.Reaches: leanReach}[in.Site.Reach]
	}
	if high := math.Min(leanHigh, height); lean*high > force*at {
		return lean, unit.Length(high)
	}
	return force, unit.Length(at)
}

// tips says that it falls, with the ballast that would hold it and how wide the
// base would have to be without.
func (in Input) tips(s model.Structure, tip tipping) finding.Finding {
	stand, needs := *in.Stand, s.Stand.Needs
	const step, most = 100.0, 2000 // g; 200 kg: more is no ballast but a foundation
	n := sort.Search(most+1, func(i int) bool {
		return !in.tipping(s, stand.Across, stand.Ballast+unit.Mass(step*float64(i))).falls(needs)
	})
	wide := in.across(func(wide unit.Length) bool { return !in.tipping(s, wide, stand.Ballast).falls(needs) })
	args := finding.Args{
		"angle": degrees(tip.angle), "needs": degrees(needs), "push": finding.Number(math.Floor(tip.tips)),
		"must": finding.Number(math.Ceil(tip.push)), "high": finding.Long(tip.at), "wide": finding.Long(wide),
	}
	if n > most {
		return finding.New("tips-wide", stand.At, args)
	}
	args["ballast"] = finding.Weight(step * float64(n))
	return finding.New("tips", stand.At, args)
}

// across is the least width of the base, to 10 mm, at which something holds that
// holds for every wider one; 5 m where it holds for none.
func (in Input) across(holds func(unit.Length) bool) unit.Length {
	const step, most = 10.0, 500
	return unit.Length(step * float64(1+sort.Search(most-1, func(i int) bool { return holds(unit.Length(step * float64(i+1))) })))
}
