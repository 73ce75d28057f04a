package place

import (
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// duct is where all cables run along the axis: one clocking, half way between what
// stands in the middle and the wall, and past the stretch where joints leave no room
// beside the core, inside it.
type duct struct {
	clocking float64
	tight    [2]float64 // stations that no cable passes beside the core; equal: none
	inCore   [2]float64 // stations between which the duct runs inside it
	holes    []model.Pass
}

// crowded is what a tongue or a bay in the duct costs, rad of way round.
const crowded = 10.0

// ductFor chooses the duct: off tongues, bays and what else lies inside, and near
// to what it joins.
func (w *work) ductFor(p model.Places) duct {
	low, high := w.stretch(p)
	best, cost := 0.0, math.Inf(1)
	for k := range roundSteps {
		// Half a step off the usual clockings, where fins and openings are.
		c := 2 * math.Pi * (float64(k) + 0.5) / roundSteps
		sum := 0.0
		for _, b := range p.Bays {
			if b.Wound == 0 {
				sum += math.Abs(math.Remainder(c-end(b).clocking, 2*math.Pi))
			}
		}
		for _, t := range w.Division.Tabs {
			if near := math.Abs(math.Remainder(c-t.Clocking, 2*math.Pi)); near < math.Pi/roundSteps*1.5 {
				sum += crowded
			}
		}
		sin, cos := math.Sincos(c)
		for z := low; z <= high; z += ductStride {
			r := w.ductRadius(z)
			if w.crosses([3]float64{r * cos, r * sin, z}, "", "") {
				sum += crowded
			}
		}
		if sum < cost {
			best, cost = c, sum
		}
	}
	d := duct{clocking: best}
	w.intoCore(&d, low, high)
	return d
}

// ductStride is how finely a duct is looked over, mm.
const ductStride = 4.0

// stretch is from the lowest to the highest of what wires join; to the body's foot
// where a lead leaves.
func (w *work) stretch(p model.Places) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, wire := range w.wires {
		for _, id := range [...]string{wire.From, wire.To} {
			at := w.lowest()
			if b, ok := p.Bay(id); ok {
				at = float64(b.Centre[2])
			}
			low, high = math.Min(low, at), math.Max(high, at)
		}
	}
	return low, high
}

// lowest is where the body begins.
func (w *work) lowest() float64 {
	lowest := math.Inf(1)
	for _, p := range w.Design.Parts {
		if p.OnBody() {
			lowest = math.Min(lowest, float64(p.Span.From))
		}
	}
	return lowest
}

// tight reports whether no cable passes between the wall and what stands in the
// middle.
func (w *work) tight(z float64) bool {
	return w.wallAt(z)-w.middle(z-0.5, z+0.5) < cable
}

// ductRadius is the duct's distance from the axis beside the core.
func (w *work) ductRadius(z float64) float64 { return w.part(z, 0.5) }

// part is the radius that divides the room beside the core in a share.
func (w *work) part(z, share float64) float64 {
	wall := w.wallAt(z)
	// A way bends in only past the core's end, see follow.
	inner := math.Min(wall, w.middle(z-stride-before, z+stride+before))
	if wide := wall - inner; wide > cable {
		return inner + cable/2 + share*(wide-cable)
	}
	return (inner + wall) / 2
}

// wallAt is the radius inside at a station: the cavity's, and in a joint what the
// spigot or collar leaves.
func (w *work) wallAt(station float64) float64 {
	least := math.Inf(1)
	for i, part := range w.Design.Parts {
		if !part.OnBody() || station < float64(part.Span.From)-1 || station > float64(part.Span.To)+1 {
			continue
		}
		for _, d := range [...]model.Direction{model.FootDown, model.NoseDown} {
			at := math.Min(math.Max(station, float64(part.Span.From)), float64(part.Span.To))
			if r := model.LowestBetween(w.Raw[i].Cavity(d), at-1, at+1); r > 0 {
				least = math.Min(least, r)
			}
		}
	}
	for _, n := range w.necks {
		least = math.Min(least, n.limit(station-1, station+1))
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return math.Max(0, least)
}

// shut says where cables do not get along the duct, beside the core or inside it.
func (w *work) shut(d duct, low, high float64) finding.List {
	at, room := 0.0, math.Inf(1)
	for z := low; z <= high; z++ {
		wide := w.wallAt(z) - w.middle(z-0.5, z+0.5)
		if d.through(low, high) && z >= d.inCore[0] && z <= d.inCore[1] {
			inner, outer := w.lumen(z)
			wide = outer - inner
		}
		if wide < room {
			at, room = z, wide
		}
	}
	if room >= cable {
		return nil
	}
	part := ""
	for _, p := range w.Design.Parts {
		if p.OnBody() && float64(p.Span.From) <= at && at <= float64(p.Span.To) {
			part = p.ID
		}
	}
	return finding.List{finding.New("no-way-along", w.Design.Components[0].At, finding.Args{
		"at": finding.Long(at), "room": finding.Size(math.Max(0, room)), "need": finding.Size(cable),
	}).About(part).AtStation(unit.Length(at))}
}
