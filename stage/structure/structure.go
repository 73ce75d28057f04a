package structure

import (
	"context"
	"math"

	"scalewright/craft/beam"
	"scalewright/craft/handling"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// Run weighs, bends and tips the build.
func Run(_ context.Context, in Input) (model.Structure, finding.List, error) {
	var out model.Structure
	var found finding.List
	out.Weights = in.weights()
	out.Total, out.Centre = together(out.Weights)
	out.Lift = handling.Usual.Limit()
	found.Add(in.lifted(out)...)
	if in.Core != nil && out.Total.X > 0 {
		found.Add(in.carried(&out)...)
	}
	if in.Stand != nil && out.Total.X > 0 {
		found.Add(in.standing(&out)...)
	}
	if in.Site != nil {
		found.Add(in.warm()...)
		found.Add(in.way()...)
	}
	return out, found, nil
}

// lifted says what one person should not lift alone.
func (in Input) lifted(s model.Structure) finding.List {
	kg := s.Total.X / 1000
	if kg <= s.Lift {
		return nil
	}
	return finding.List{finding.New("heavy", in.at(), finding.Args{
		"mass": finding.Weight(s.Total.X), "limit": finding.Weight(1000 * s.Lift),
		"people": finding.Count(int(math.Ceil(kg / s.Lift))),
	})}
}

// at is where findings about the whole stand.
func (in Input) at() finding.Place {
	switch {
	case in.Stand != nil:
		return in.Stand.At
	case in.Site != nil:
		return in.Site.At
	case in.Core != nil:
		return in.Core.At
	}
	return finding.Place{}
}

// carried bends the core on two hands, where it bends least, and as it is raised.
func (in Input) carried(s *model.Structure) finding.List {
	core := *in.Core
	section := tube(core)
	stuff := core.Stock.Substance()
	ei := stuff.E * section.I()
	loads := in.loads(s.Weights)
	allows := stuff.Strength / factor
	from, to := float64(core.Span.From), float64(core.Span.To)
	best := math.Inf(1)
	const places = 20 // hands are placed by eye, to a twentieth of the core
	for i := range places {
		for k := i + places/4; k <= places; k++ {
			a, b := from+(to-from)*float64(i)/places, from+(to-from)*float64(k)/places
			bent := beam.OnTwo(loads, a, b, ei)
			if bent.Moment < best {
				best = bent.Moment
				s.Hands = [2]unit.Length{unit.Length(a), unit.Length(b)}
				s.Carried = model.Bending{
					Droop: unit.Length(bent.Droop), At: unit.Length(bent.DroopAt),
					Stress: shakes * bent.Moment / section.Z(), Allows: allows,
				}
			}
		}
	}
	var above []beam.Load
	for _, l := range loads {
		above = append(above, beam.Load{At: max(0, l.At-from), Force: l.Force})
	}
	bent := beam.Held(above, ei)
	s.Raised = model.Bending{
		Droop: unit.Length(bent.Droop), At: core.Span.From + unit.Length(bent.DroopAt),
		Stress: bent.Moment / section.Z(), Allows: allows,
	}
	var found finding.List
	if limit := (core.Span.To - core.Span.From) / droopShare; s.Carried.Droop > limit || s.Carried.Stress > allows {
		found.Add(finding.New("core-droops", core.At, finding.Args{
			"core": finding.Name(core.Stock.Name), "droop": finding.Size(s.Carried.Droop), "stress": finding.Number(s.Carried.Stress),
			"allows": finding.Number(allows), "first": finding.Long(s.Hands[0]), "second": finding.Long(s.Hands[1]),
		}).AtStation(s.Carried.At))
	}
	if s.Raised.Stress > allows {
		found.Add(finding.New("core-snaps", core.At, finding.Args{
			"core": finding.Name(core.Stock.Name), "stress": finding.Number(s.Raised.Stress), "allows": finding.Number(allows),
		}).AtStation(core.Span.From))
	}
	return found
}

// tube is the core's section with its least wall.
func tube(core model.Core) beam.Section {
	od := float64(core.Stock.OD)
	return beam.Section{Outside: od, Bore: max(0, od-2*float64(core.Stock.Wall))}
}

// loads are the weights as they lie along the axis: pieces and core spread over
// their lengths, all else in one place.
func (in Input) loads(weights []model.Weight) []beam.Load {
	const parts = 8
	var loads []beam.Load
	i := 0
	for _, w := range weights {
		for i < len(in.Prints) && in.Prints[i].Grams == 0 {
			i++
		}
		from, to := w.Centre[2], w.Centre[2]
		switch {
		case i < len(in.Prints):
			box := in.Carved[i].Solid.Bounds()
			from, to = box.Min[2], box.Max[2]
			i++
		case w.Name == coreName:
			from, to = float64(in.Core.Span.From), float64(in.Core.Span.To)
		}
		loads = append(loads, beam.Spread(from, to, newtons(w.Mass.X), parts)...)
	}
	return loads
}

// newtons are the weight of grams.
func newtons(grams float64) float64 { return grams / 1000 * gravity }
