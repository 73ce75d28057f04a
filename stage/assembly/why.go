package assembly

import (
	"context"
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// bondedJoints are joints that are to come apart and never will: others bond what
// lies on their two sides.
func (p *problem) bondedJoints() finding.List {
	var said finding.List
	whole := p.glued()
	for _, j := range p.joints {
		if j.bonded || j.task.Kind == model.Raise || whole[j.keeps] != whole[j.comes] {
			continue
		}
		by := p.bridge(j)
		said.Add(finding.New("joint-bonded-shut", j.at, finding.Args{
			"joint": finding.Name(j.id), "by": finding.Name(by),
		}).About(p.things[j.comes].part).AtStation(j.station))
	}
	return said
}

// bridge is a glued joint without which a loose one would come apart, or the
// first of several that each would have to.
func (p *problem) bridge(loose joint) string {
	for i, j := range p.joints {
		if !j.bonded || !j.between {
			continue
		}
		without := *p
		without.joints = append(append([]joint{}, p.joints[:i]...), p.joints[i+1:]...)
		if b := without.glued(); b[loose.keeps] != b[loose.comes] {
			return j.id
		}
	}
	return "the glue of its neighbours"
}

// shutAtOnce are components that do not get into their own piece, glued to
// nothing yet.
func (p *problem) shutAtOnce() finding.List {
	var said finding.List
	for i := range p.Places.Bays {
		if !p.reached(i, p.apart()) {
			b := p.Places.Bays[i]
			said.Add(finding.New("no-way-into-piece", p.component(b.Component).At, finding.Args{
				"component": finding.Name(b.Component), "piece": finding.Name(p.things[p.inside[i]].name),
				"need": finding.Size(needs(b)),
			}).About(b.Part).AtStation(b.Centre[2]))
		}
	}
	return said
}

// shutForGood are components to be serviced that nobody reaches once all is
// glued, each with the joint to make removable.
func (p *problem) shutForGood() finding.List {
	var said finding.List
	for i, b := range p.Places.Bays {
		c := p.component(b.Component)
		if c.Service != model.Serviced || p.reached(i, p.glued()) {
			continue
		}
		args := finding.Args{"component": finding.Name(b.Component)}
		code := finding.Code("bonded-shut")
		if joint := p.cure(i, func(q *problem) bool { return q.reached(i, q.glued()) }); joint != "" {
			code, args["joint"] = "bonded-shut-by", finding.Name(joint)
		}
		said.Add(finding.New(code, c.At, args).About(b.Part).AtStation(b.Centre[2]))
	}
	return said
}

// cure is the glued joint, the nearest to a bay, that would do if it came apart.
func (p *problem) cure(bay int, does func(*problem) bool) string {
	best, off := "", math.Inf(1)
	for i, j := range p.joints {
		if !j.bonded || !j.between {
			continue
		}
		d := math.Abs(float64(j.station - p.Places.Bays[bay].Centre[2]))
		if d >= off {
			continue
		}
		loose := *p
		loose.joints = append([]joint{}, p.joints...)
		loose.joints[i].bonded = false
		loose.sort()
		if does(&loose) {
			best, off = j.id, d
		}
	}
	return best
}

func (p *problem) component(id string) model.Component {
	for _, c := range p.Design.Components {
		if c.ID == id {
			return c
		}
	}
	return model.Component{ID: id}
}

// why finds out what makes an order impossible: two things of which neither can
// pass the other, a wire whose ends are both shut in, or joints that stand in each
// other's way.
func (p *problem) why(ctx context.Context, longest order, wires []wire) (finding.List, error) {
	if said := p.neitherPasses(); len(said) > 0 {
		return said, nil
	}
	o, how, err := p.search(ctx, nil)
	if err != nil {
		return nil, err
	}
	if how == found {
		return p.whichWire(ctx, wires)
	}
	return finding.List{p.stuck(o)}, nil
}

// neitherPasses are pairs that one joint unites and of which each stands in the
// other's way from both ends.
func (p *problem) neitherPasses() finding.List {
	var said finding.List
	aside := map[int]bool{} // what comes from the side need not pass
	for _, j := range p.joints {
		aside[j.comes] = aside[j.comes] || j.side
	}
	for i, t := range p.things {
		aside[i] = aside[i] || t.piece != nil && t.piece.ID.Kind == model.Panel
	}
	for i := range p.things {
		for k := range i {
			x, y := p.things[i], p.things[k]
			if p.pass[i][k] || p.pass[k][i] || aside[i] || aside[k] {
				continue
			}
			part := x.part
			if part == "" {
				part = y.part
			}
			at := p.part(part).At
			if part == "" {
				at = p.Design.Core.At
			}
			said.Add(finding.New("shut-at-both-ends", at, finding.Args{
				"thing": finding.Name(x.name), "other": finding.Name(y.name),
			}).About(part).AtStation(unit.Length(max(x.low, y.low))))
		}
	}
	return said
}

// whichWire is the first wire with which, added to those before it, no order is
// left, and what would help.
func (p *problem) whichWire(ctx context.Context, wires []wire) (finding.List, error) {
	for n := range wires {
		_, how, err := p.search(ctx, wires[:n+1])
		if err != nil {
			return nil, err
		}
		if how == found {
			continue
		}
		bay := wires[n].ends[0]
		b := p.Places.Bays[bay]
		args := finding.Args{
			"wire": finding.Name(wires[n].id), "component": finding.Name(b.Component),
			"other": finding.Name(p.Places.Bays[wires[n].ends[1]].Component),
		}
		code := finding.Code("wire-shut-in")
		var failure error
		joint := p.cure(bay, func(q *problem) bool {
			_, how, err := q.search(ctx, wires[:n+1])
			if err != nil {
				failure = err
			}
			return how == found
		})
		if joint != "" {
			code, args["joint"] = "wire-shut-in-by", finding.Name(joint)
		}
		return finding.List{finding.New(code, p.component(b.Component).At, args).About(b.Part).AtStation(b.Centre[2])}, failure
	}
	return nil, nil
}

// stuck names the first joint that the longest order could not close, and what
// would have to pass what.
func (p *problem) stuck(longest order) finding.Finding {
	closed := map[int]bool{}
	for _, k := range longest.joints {
		closed[k] = true
	}
	b := longest.bodies(p)
	for k, j := range p.joints {
		if closed[k] {
			continue
		}
		keeps, comes := b.of(j.keeps), b.of(j.comes)
		x, y := p.blocking(comes, keeps)
		return finding.New("no-order", j.at, finding.Args{
			"act": finding.Name(j.task.Name), "thing": finding.Name(p.name(x)), "other": finding.Name(p.name(y)),
		}).About(p.things[j.comes].part).AtStation(j.station)
	}
	panic("assembly: internal error: every joint of an order that fails is closed")
}

// blocking is a pair of which the first cannot pass the second towards its place.
func (p *problem) blocking(comes, keeps []int) (x, y int) {
	for _, x := range comes {
		for _, y := range keeps {
			if !p.pass[x][y] {
				return x, y
			}
		}
	}
	return comes[0], keeps[0]
}

// at is a finding about the first joint that an order lacks.
func (p *problem) at(code finding.Code, o order, args finding.Args) finding.Finding {
	j := p.joints[min(len(o.joints), len(p.joints)-1)]
	return finding.New(code, j.at, args).About(p.things[j.comes].part).AtStation(j.station)
}
