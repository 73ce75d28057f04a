package place

import (
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// behind puts what sits in an opening behind it, along its radius.
func (w *work) behind(c model.Component) (model.Bay, finding.List) {
	none := func(code finding.Code, args finding.Args) (model.Bay, finding.List) {
		args["component"], args["opening"] = finding.Name(c.ID), finding.Name(c.Opening)
		return model.Bay{}, finding.List{finding.New(code, c.At, args).About(c.Part).AtStation(c.Station)}
	}
	for _, v := range w.Division.Windows {
		if v.Opening.ID != c.Opening {
			continue
		}
		for _, r := range w.all {
			at := float64(v.Opening.Station)
			size := sizeOf(c)
			half := math.Min(size[1], float64(c.Kind.Size[0])+2*spare)
			if r.piece.ID != v.Piece || at-half/2 < r.from || at+half/2 > r.to {
				continue
			}
			// It lies in the wall's hole, its face outside; the bay is what stands inside.
			b := box{
				lie: lies[0], station: at, clocking: v.Opening.Clocking, along: half, round: half,
				deep: float64(c.Kind.Size[2]+c.Kind.Plug) + spare,
			}
			outer := r.outerAt(at-half/2, at+half/2) - clear
			if w.limit(r, b) < outer {
				continue // a ledge or a tongue stands in its way
			}
			b, lacks := b.out(outer, w.middleAt(b))
			if lacks > 0 {
				return none("too-deep", finding.Args{"deep": finding.Size(b.deep), "room": finding.Size(math.Max(0, b.deep-lacks))})
			}
			bay := b.bay(c, r)
			if other, free := w.free(bay); !free {
				return none("behind-taken", finding.Args{"by": finding.Name(other.Component), "much": finding.Size(shared(bay, other))})
			}
			return bay, nil
		}
	}
	return none("no-room-behind", finding.Args{})
}

// mostTurns bounds how often a strip is wound round.
const mostTurns = 12

// wind lays a strip round inside the wall, at the wished station or where it fits
// first, from the room's lower end; where it goes nowhere round, along the axis.
func (w *work) wind(c model.Component) (model.Bay, finding.List) {
	long := float64(c.Length + c.Kind.Plug)
	thick := float64(c.Kind.Size[2]) + 2*spare
	round, along := 0.0, 0.0
	for _, r := range w.all {
		if r.part != c.Part {
			continue
		}
		along = max(along, r.to-r.from-2*float64(c.Kind.Plug)-2*spare)
		for z := r.from; z < r.to; z += alongStep {
			if c.Placed && math.Abs(z-math.Max(r.from, float64(c.Station))) > alongStep/2 {
				continue
			}
			for turns := 1.0; turns <= mostTurns && z+turns*turnPitch <= r.to; turns++ {
				high := turns * turnPitch
				ring := box{station: z + high/2, along: high, deep: thick, all: true}
				radius := w.limit(r, ring) + clear - spare
				if radius-thick < w.middle(z, z+high) {
					break
				}
				round = max(round, turns*2*math.Pi*radius)
				if turns*2*math.Pi*radius < long {
					continue
				}
				bay := model.Bay{
					Component: c.ID, Part: r.part, Piece: r.piece.ID, Wound: unit.Length(radius),
					Centre: [3]unit.Length{0, 0, unit.Length(z + high/2)},
					Axes:   [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
					Size:   [3]unit.Length{unit.Length(thick), unit.Length(2 * radius), unit.Length(high)},
				}
				if _, free := w.free(bay); free {
					bay.Reached = r.reached(c, bay)
					return bay, nil
				}
				break
			}
		}
	}
	if !c.Placed {
		straight := c
		straight.Kind.Size[0] = c.Length
		for _, fine := range [...]bool{false, true} {
			if b, ok := w.over(straight, lies[:1], fine, w.far); ok {
				return b, nil
			}
		}
	}
	return model.Bay{}, finding.List{finding.New("strip-too-long", c.At, finding.Args{
		"component": finding.Name(c.ID), "long": finding.Long(long), "room": finding.Long(max(0, round)), "along": finding.Long(max(0, along)),
	}).About(c.Part).AtStation(c.Station)}
}
