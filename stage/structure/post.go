package structure

import (
	"math"
	"slices"

	"scalewright/craft/beam"
	"scalewright/craft/bush"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// held is how the post holds the core: it stands fast in the base and touches the
// core in two places only, where the post enters it and where the post ends. So
// the core is a beam on two supports that hangs over at its top, and the post a
// cantilever that takes what the supports bear. Heights are above the base.
type held struct {
	section      beam.Section // of the post
	core         beam.Section
	low, high    float64 // of the two places
	top          float64 // of the build
	play         float64 // mm, of the post in the core on the diameter
	rings        model.PostRings
	post, inside bending // of the post, of the core inside the build
	aside        float64 // N, at the centre of mass: what its weight does off the axis and off level
	centre       float64 // height of the centre of mass
	allows       float64 // MPa, in the core
}

// bending is a beam's stiffness E·I for a moment and for months, N·mm².
type bending struct{ now, standing float64 }

// postSection is the post's: a rod has no bore.
func postSection(s model.Stand) beam.Section {
	od := float64(s.Post.OD)
	return beam.Section{Outside: od, Bore: max(0, od-2*float64(s.Post.Wall))}
}

func (in Input) held(s model.Structure) held {
	stand := *in.Stand
	h := held{section: postSection(stand), low: float64(stand.Below) + in.start(), top: float64(stand.Below + in.Length)}
	const least = 1.0 // mm: a post that holds nothing leans, and is no division by nought
	h.high = h.low + max(least, float64(stand.Engage))
	stuff := stand.Post.Substance()
	h.post = bending{stuff.E * h.section.I(), stuff.Creep * h.section.I()}
	h.inside = bending{math.Inf(1), math.Inf(1)} // a build without a core is stiff
	if in.Core != nil {
		h.core = tube(*in.Core)
		stuff := in.Core.Stock.Substance()
		h.inside = bending{stuff.E * h.core.I(), stuff.Creep * h.core.I()}
		h.allows = stuff.Strength / factor
		h.rings, h.play = in.rings()
	}
	// As a force that has the weight's moment about the base.
	h.centre = float64(stand.Below) + s.Centre[2]
	weight := newtons(s.Total.X)
	tilt := 0.0
	if in.Site != nil {
		tilt = in.Site.TiltRad
	}
	if h.centre > 0 {
		h.aside = weight * (math.Sin(tilt) + math.Hypot(s.Centre[0], s.Centre[1])/h.centre)
	}
	return h
}

// coreBore is the core's bore as it runs; walls are thicker than their least.
func (in Input) coreBore() unit.Length { return bush.CoreBore(in.Core.Stock) }

// bushed reports whether bushes are printed for the post.
func (in Input) bushed() bool {
	return slices.ContainsFunc(in.Division.Pieces, func(p model.Piece) bool { return p.ID.Kind == model.Bush })
}

// rings are what fills the room between post and core, where there is enough of
// it, and the play that is left: printed bushes as they were sized, else what would
// have to be turned.
func (in Input) rings() (model.PostRings, float64) {
	post, bore := in.Stand.Post, in.coreBore()
	need := post.Widest() + bush.PostPlay
	if !bush.Fills(post, in.Core.Stock) {
		widest := in.Core.Stock.ODMost - 2*in.Core.Stock.Wall
		return model.PostRings{}, max(0, float64(widest-post.OD))
	}
	from := in.Core.Span.From
	rings := model.PostRings{Outside: bore - ringPlay, Bore: need, Stations: [2]unit.Length{from, from + in.Stand.Engage}}
	play := ringPlay + float64(need-post.OD)
	for _, p := range in.Division.Pieces {
		for _, f := range in.Fits {
			switch {
			case p.ID.Kind != model.Bush:
			case f.Male == "post" && f.Female == p.ID.String():
				// It leans by what the glue does not fill: the post in the bush, at its slimmest.
				rings.Bore, play = f.Bore.Nominal, f.Bore.Actual.X-float64(post.OD-post.Oval/2)
			case f.Male == p.ID.String():
				rings.Outside = f.MaleSize.Nominal
			}
		}
	}
	return rings, play
}

// bears are the forces of the two places on the post, under one at a height.
func (h held) bears(force, at float64) (low, high float64) {
	high = force * (at - h.low) / (h.high - h.low)
	return force - high, high
}

// presses is the larger of them.
func (h held) presses(force, at float64) float64 {
	low, high := h.bears(force, at)
	return math.Max(math.Abs(low), math.Abs(high))
}

// sway is how far the top moves under a force at a height: with the post at both
// places, and as the core bends between and beyond them.
func (h held) sway(force, at float64, forMonths bool) float64 {
	post, inside := h.post.now, h.inside.now
	if forMonths {
		post, inside = h.post.standing, h.inside.standing
	}
	low, high := h.bears(force, at)
	loads := []beam.Load{{At: h.low, Force: low}, {At: h.high, Force: high}}
	a, b := beam.HeldAt(loads, post, h.low), beam.HeldAt(loads, post, h.high)
	along := (h.top - h.low) / (h.high - h.low)
	return a + (b-a)*along + beam.OnTwoAt([]beam.Load{{At: at, Force: force}}, h.low, h.high, inside, h.top)
}

// slack is how far the top leans as the post turns in the core.
func (h held) slack() float64 { return h.play / (h.high - h.low) * math.Max(0, h.top-h.low) }

// settles is how far its own weight bends it in months.
func (h held) settles() float64 {
	if h.aside == 0 {
		return 0
	}
	return h.sway(h.aside, h.centre, true)
}

// lean is how far the top stands off plumb, the floor's tilt left out.
func (h held) lean() float64 { return h.slack() + h.settles() }

// coreStress is what the core bears under a force, and what it may.
func (h held) coreStress(force, at float64) (stress, allows float64) {
	if h.core.Outside == 0 {
		return 0, 0
	}
	bent := beam.OnTwo([]beam.Load{{At: at, Force: force}}, h.low, h.high, h.inside.now)
	return bent.Moment / h.core.Z(), h.allows
}

// leans says that it stands off plumb: by its own weight alone, or by the play of
// the post, which a longer post takes out.
func (h held) leans(height unit.Length, stand model.Stand) finding.List {
	limit := float64(height) / leanShare
	if h.lean() <= limit {
		return nil
	}
	deep := h.play * (h.top - h.low) / (limit - h.settles())
	if h.settles() >= limit || deep > h.top-h.low {
		return finding.List{finding.New("post-creeps", stand.At, finding.Args{
			"lean": finding.Size(h.lean()), "limit": finding.Size(limit), "post": finding.Name(stand.Post.Name),
		})}
	}
	return finding.List{finding.New("leans", stand.At, finding.Args{
		"lean": finding.Size(h.lean()), "limit": finding.Size(limit), "play": finding.Size(h.play),
		"engage": finding.Long(math.Ceil(deep/10) * 10),
	})}
}
