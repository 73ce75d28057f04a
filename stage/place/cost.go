package place

import (
	"math"

	"scalewright/model"
)

// far is what a place costs: the way to what the component is wired to, and, for
// what must be reached, to the opening that leads to it.
func (w *work) far(c model.Component, b model.Bay) float64 {
	cost := 0.0
	for _, wire := range w.wires {
		peer := wire.To
		if wire.To == c.ID {
			peer = wire.From
		} else if wire.From != c.ID {
			continue
		}
		for _, other := range w.bays {
			if other.Component == peer {
				cost += middle(other).Sub(middle(b)).Length()
			}
		}
	}
	if c.Service != model.Serviced {
		return cost
	}
	nearest := unreached
	for _, id := range b.Reached {
		nearest = min(nearest, seamCost)
		for _, v := range w.Division.Windows {
			if v.Opening.ID == id {
				sin, cos := math.Sincos(v.Opening.Clocking)
				at := middle(b)
				d := math.Hypot(at[0]-float64(v.Radius)*cos, at[1]-float64(v.Radius)*sin) + math.Abs(at[2]-float64(v.Opening.Station))
				nearest = min(nearest, d)
			}
		}
	}
	return cost + reachWeight*nearest
}

// A place that must be reached is worth so many times its length of wire; a joint
// that comes apart costs as much as 300 mm, a place behind neither as 5 m.
const (
	reachWeight = 2.0
	seamCost    = 300.0
	unreached   = 5000.0
)
