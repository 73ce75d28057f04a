package structure

import (
	"math"

	"scalewright/craft/beam"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

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
	s.Stored = s.Carried
	s.Stored.Droop *= unit.Length(stuff.E / stuff.Creep)
	s.Stored.Stress /= shakes // it lies still
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

// loads are the weights as they lie along the axis, each spread over its stretch.
func (in Input) loads(weights []model.Weight) []beam.Load {
	const parts = 8
	var loads []beam.Load
	for _, w := range weights {
		n := parts
		if w.Span.Length() <= 0 {
			n = 1
		}
		loads = append(loads, beam.Spread(float64(w.Span.From), float64(w.Span.To), newtons(w.Mass.X), n)...)
	}
	return loads
}

// newtons are the weight of grams.
func newtons(grams float64) float64 { return grams / 1000 * gravity }
