package assembly

import (
	"context"

	"scalewright/finding"
	"scalewright/model"
)

// Run finds the order.
func Run(ctx context.Context, in Input) (model.Assembly, finding.List, error) {
	p := newProblem(in)
	wires := p.wires()
	out := model.Assembly{Groups: p.Division.Groups(p.Design.Mounts)}
	var said finding.List
	said.Add(p.bondedJoints()...)
	said.Add(p.shutAtOnce()...)
	if said.Blocked() {
		return out, said, nil // whatever order there is, it is not the one meant
	}
	said.Add(p.shutForGood()...)
	o, how, err := p.search(ctx, wires)
	if err != nil {
		return out, said, err
	}
	switch how {
	case none:
		why, err := p.why(ctx, o, wires)
		said.Add(why...)
		return out, said, err
	case unknown:
		said.Add(p.at("order-not-settled", o, finding.Args{"sets": finding.Count(p.limit)}))
		return out, said, nil
	case found:
	}
	if !said.Blocked() {
		out.Steps = p.write(o, wires)
	}
	return out, said, nil
}
