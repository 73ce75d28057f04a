package divide

import (
	"math"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/solid"
	"scalewright/unit"
)

// inTheWay looks that the core runs through nothing that is turned round an axis of
// its own: it is bored along that axis only. Places on the core's axis and round
// its outside are looked up in the part's half plane.
func inTheWay(in Input, i int) finding.List {
	part, raw := in.Parts[i], in.Raw[i]
	if in.Core == nil || part.OnBody() || len(raw.Outer) == 0 {
		return nil
	}
	back, ok := part.Frame().Inverse()
	if !ok {
		panic("divide: internal error: the frame of " + part.ID + " cannot be undone")
	}
	for _, p := range alongCore(*in.Core) {
		q := back.Apply(p)
		z, r := q[2], math.Hypot(q[0], q[1])
		if z < float64(part.Span.From) || z > float64(part.Span.To) {
			continue
		}
		hollow := max(float64(part.Bore)/2, model.LowestBetween(raw.FootDown, z, z))
		if r < model.LowestBetween(raw.Outer, z, z)-apart && r > hollow+apart || hollow == 0 && r <= apart {
			return finding.List{finding.New("core-in-the-way", part.At, finding.Args{
				"core": finding.Name(in.Core.Stock.Name), "widest": finding.Size(in.Core.Stock.Widest()),
			}).About(part.ID).AtStation(unit.Length(p[2]))}
		}
	}
	return nil
}

// alongCore are places on the core's axis and round its outside at its widest.
func alongCore(core model.Core) []solid.Vec {
	var out []solid.Vec
	radius := float64(core.Stock.Widest()) / 2
	for z := float64(core.Span.From); z <= float64(core.Span.To); z += lookEvery {
		out = append(out, solid.Vec{0, 0, z})
		for k := range lookRound {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / lookRound)
			out = append(out, solid.Vec{radius * cos, radius * sin, z})
		}
	}
	return out
}

// The core is looked for this often along the axis, mm, and round it.
const (
	lookEvery = 1.0
	lookRound = 8
)
