package place

import (
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// behind puts what sits in an opening behind it, along its radius.
func (w *work) behind(c model.Component) (model.Bay, finding.List) {
	for _, v := range w.Division.Windows {
		if v.Opening.ID != c.Opening {
			continue
		}
		for _, r := range w.all {
			at := float64(v.Opening.Station)
			if r.piece.ID != v.Piece || at < r.from || at > r.to {
				continue
			}
			size := sizeOf(c)
			// It lies in the wall's hole, its face outside; the bay is what stands inside.
			deep := float64(c.Kind.Size[2]+c.Kind.Plug) + spare
			half := math.Min(size[1], float64(c.Kind.Size[0])+2*spare)
			outer := r.outerAt(at-half/2, at+half/2) - clear
			b := box{station: at, clocking: v.Opening.Clocking, along: half, round: half, deep: deep}
			b.radius = math.Sqrt(math.Max(0, outer*outer-half*half/4)) - deep/2
			if room := b.radius + deep/2 - r.inner; room < deep || at-half/2 < r.from || at+half/2 > r.to {
				return model.Bay{}, finding.List{finding.New("too-deep", c.At, finding.Args{
					"component": finding.Name(c.ID), "deep": finding.Size(deep), "room": finding.Size(math.Max(0, room)),
				}).About(r.part).AtStation(v.Opening.Station)}
			}
			bay := b.bay(c, r)
			if other, free := w.free(bay); !free {
				return bay, finding.List{finding.New("place-taken", c.At, finding.Args{
					"component": finding.Name(c.ID), "long": finding.Size(b.along), "wide": finding.Size(b.round), "high": finding.Size(deep),
					"by": finding.Name(other),
				}).About(r.part).AtStation(v.Opening.Station)}
			}
			return bay, nil
		}
	}
	return model.Bay{}, finding.List{finding.New("no-room-behind", c.At, finding.Args{
		"component": finding.Name(c.ID), "opening": finding.Name(c.Opening),
	}).About(c.Part)}
}

// wind lays a strip round inside the wall, at the wished station or where it fits
// first, from the room's lower end.
func (w *work) wind(c model.Component) (model.Bay, finding.List) {
	long := float64(c.Length)
	thick := float64(c.Kind.Size[2]) + 2*spare
	best := 0.0
	for _, r := range w.all {
		if r.part != c.Part {
			continue
		}
		for z := r.from; z < r.to; z += alongStep {
			if c.Placed && math.Abs(z-math.Max(r.from, float64(c.Station))) > alongStep/2 {
				continue
			}
			high := turnPitch
			for range mostTurns {
				if z+high > r.to {
					break
				}
				radius := r.outerAt(z, z+high) - spare
				if radius-thick < r.inner {
					break
				}
				turns := math.Floor(high / turnPitch)
				best = max(best, turns*2*math.Pi*radius)
				if turns*2*math.Pi*radius < long {
					high += turnPitch
					continue
				}
				bay := model.Bay{
					Component: c.ID, Part: r.part, Piece: r.piece.ID, Reached: r.reached, Wound: unit.Length(radius),
					Centre: [3]unit.Length{0, 0, unit.Length(z + high/2)},
					Axes:   [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
					Size:   [3]unit.Length{unit.Length(thick), unit.Length(2 * radius), unit.Length(high)},
				}
				if _, free := w.free(bay); free {
					return bay, nil
				}
				break
			}
		}
	}
	return model.Bay{}, finding.List{finding.New("strip-too-long", c.At, finding.Args{
		"component": finding.Name(c.ID), "long": finding.Long(long), "room": finding.Long(best),
	}).About(c.Part).AtStation(c.Station)}
}

// mostTurns bounds how often a strip is wound round.
const mostTurns = 12
