package structure

import (
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// standing tips the build on its stand, pushes it, and bends the post.
func (in Input) standing(s *model.Structure) finding.List {
	stand := *in.Stand
	start := 0.0 // where the post goes into the core
	if in.Core != nil {
		start = float64(in.Core.Span.From)
	}
	section, postGrams := post(stand, start)
	baseGrams := base(stand)
	out := &s.Stand
	out.Base = unit.Mass(baseGrams + postGrams)
	foot := float64(stand.Thick + stand.Below) // of station 0 above the floor
	out.Height = unit.Length(foot) + in.Length
	weight := s.Total.X + baseGrams + postGrams
	postMiddle := float64(stand.Thick) + (float64(stand.Below)+start+float64(stand.Engage))/2
	middle := (s.Total.X*(foot+s.Centre[2]) + baseGrams*float64(stand.Thick)/2 + postGrams*postMiddle) / weight
	out.Middle = unit.Length(middle)
	edge := float64(stand.Across)/2 - math.Hypot(s.Centre[0], s.Centre[1])*s.Total.X/weight
	tilt := 0.0
	if in.Site != nil {
		tilt = in.Site.TiltRad
	}
	out.Tips = math.Atan2(edge, middle) - tilt
	out.Needs = in.needs()
	force := newtons(weight)
	out.Push, out.PushAt = in.push(force, float64(out.Height))
	out.PushTips = force * edge * math.Cos(tilt) / float64(out.PushAt)
	substance := stand.Post.Substance()
	arm := float64(out.PushAt) - float64(stand.Thick)
	out.Stress, out.Allows = out.Push*arm/section.Z(), substance.Strength/factor
	out.Sway = unit.Length(sway(out.Push, arm, float64(stand.Below)+start, float64(out.Height-stand.Thick), substance.E*section.I()))
	area := math.Pi * float64(stand.Across) * float64(stand.Across) / 4e6
	if stand.Square {
		area *= 4 / math.Pi
	}
	out.Floor = weight / 1000 / area

	found := in.fitsPost(section.Outside)
	if out.Tips < out.Needs || out.PushTips < out.Push {
		found.Add(finding.New("tips", stand.At, finding.Args{
			"angle": degrees(out.Tips), "needs": degrees(out.Needs), "push": finding.Number(math.Floor(out.PushTips)),
			"must": finding.Number(math.Ceil(out.Push)), "high": finding.Long(out.PushAt),
			"ballast": finding.Weight(ballast(weight, middle, edge, float64(stand.Thick), tilt, *out)),
		}))
	}
	if out.Stress > out.Allows {
		found.Add(finding.New("post-weak", stand.At, finding.Args{
			"post": finding.Name(stand.Post.Name), "stress": finding.Number(out.Stress), "allows": finding.Number(out.Allows),
			"push": finding.Number(math.Ceil(out.Push)),
		}))
	}
	if out.Sway > out.Height/swayShare {
		found.Add(finding.New("sways", stand.At, finding.Args{
			"sway": finding.Size(out.Sway), "limit": finding.Size(out.Height / swayShare), "push": finding.Number(math.Ceil(out.Push)),
			"post": finding.Name(stand.Post.Name),
		}))
	}
	if in.Site != nil && in.Site.Bears > 0 && out.Floor > in.Site.Bears {
		found.Add(finding.New("floor-weak", in.Site.At, finding.Args{
			"load": finding.Number(math.Ceil(out.Floor)), "bears": finding.Number(in.Site.Bears),
		}))
	}
	return found
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

// ballast is what must be added on the base so that it neither tips at the angle
// nor under the push, g.
func ballast(weight, middle, edge, thick, tilt float64, s model.Standing) float64 {
	// Push: (W + m)·g·b ≥ F·h.
	byPush := float64(s.PushAt)*s.Push/(gravity*edge*math.Cos(tilt))*1000 - weight
	// Angle: tan(needs + tilt) ≤ b·(W + m) / (W·h + m·t).
	k := math.Tan(s.Needs + tilt)
	byAngle := 0.0
	if edge > k*thick {
		byAngle = weight * (k*middle - edge) / (edge - k*thick)
	}
	return math.Ceil(math.Max(0, math.Max(byPush, byAngle))/100) * 100
}

// sway is how far the top moves under a force at a height above the post's foot,
// the build above the post taken as stiff: δ and θ at the post's end by the
// cantilever's formulae for a force and a moment there.
func sway(force, arm, free, top, ei float64) float64 {
	moment := force * math.Max(0, arm-free)
	reach := math.Min(arm, free)
	down := force*reach*reach*reach/(3*ei) + force*reach*reach/(2*ei)*(free-reach) + moment*free*free/(2*ei)
	slope := force*reach*reach/(2*ei) + moment*free/ei
	return down + slope*math.Max(0, top-free)
}

// fitsPost says where the post is too thick for its way into the core.
func (in Input) fitsPost(outside float64) finding.List {
	if in.Core == nil {
		return nil
	}
	need := float64(in.Stand.Post.Widest()) + postPlay
	bore := float64(in.Core.Stock.OD) - 2*wallsRun*float64(in.Core.Stock.Wall)
	if need > bore {
		return finding.List{finding.New("post-wide", in.Stand.At, finding.Args{
			"post": finding.Name(in.Stand.Post.Name), "needs": finding.Size(need), "room": finding.Size(bore), "where": finding.Name("the core"),
		}).AtStation(in.Core.Span.From)}
	}
	for i, part := range in.Parts {
		if !part.OnBody() || i >= len(in.Raw) || part.Span.From >= in.Core.Span.From {
			continue
		}
		from, to := float64(part.Span.From), math.Min(float64(part.Span.To), float64(in.Core.Span.From))
		if room := 2 * model.LowestBetween(in.Raw[i].FootDown, from, to); need > room {
			return finding.List{finding.New("post-wide", in.Stand.At, finding.Args{
				"post": finding.Name(in.Stand.Post.Name), "needs": finding.Size(need), "room": finding.Size(room), "where": finding.Name(part.ID),
			}).About(part.ID).AtStation(part.Span.From)}
		}
	}
	return nil
}
