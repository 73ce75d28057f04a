package assembly

import (
	"fmt"

	"scalewright/model"
)

// bushes go into the core before anything else does: they are reached from its ends
// only. The post is pinned under the lower one, which bears the weight.
func (p *problem) bushes() {
	if p.core < 0 || p.Design.Stand == nil {
		return
	}
	core, n := p.Design.Core.Span, 0
	for i, t := range p.things {
		if t.piece == nil || t.piece.ID.Kind != model.Bush {
			continue
		}
		name := fmt.Sprintf("glue the lower bush into the core, its lower face %.0f mm from the core's foot, and screw it through the core's wall: the post, pinned under it, bears the weight there", float64(t.piece.Span.From-core.From))
		if n++; n > 1 {
			name = fmt.Sprintf("push the upper bush into the core with a rod, its far face %.0f mm from the core's foot, and glue it", float64(t.piece.Span.To-core.From))
		}
		p.joints = append(p.joints, joint{
			task: model.Task{
				ID: model.SeatTask(t.piece.ID), Kind: model.Join, Name: name,
				Piece: t.piece.ID.String(), Bench: seatMinutes, Cure: seatHolds, Guess: true,
			},
			keeps: p.core, comes: i, bonded: true, station: t.piece.Span.From, at: p.Design.Stand.At,
		})
	}
}
