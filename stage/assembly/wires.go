package assembly

import (
	"math"
	"slices"

	"scalewright/model"
	"scalewright/unit"
)

// wire is a way with the bays at its ends; -1 where an end lies outside.
type wire struct {
	id     string
	ends   [2]int
	slack  float64
	low    float64 // stations between which it runs
	high   float64
	length unit.Length
}

// wires are the ways of cables, in their order.
func (p *problem) wires() []wire {
	bay := map[string]int{}
	for i, b := range p.Places.Bays {
		bay[b.Component] = i
	}
	var out []wire
	for _, w := range p.Places.Ways {
		v := wire{id: w.Wire, ends: [2]int{-1, -1}, low: math.Inf(1), high: math.Inf(-1), length: w.Length}
		for k, c := range [...]string{w.From, w.To} {
			if i, ok := bay[c]; ok {
				v.ends[k] = i
			}
		}
		long := 0.0
		for i, q := range w.Path {
			v.low, v.high = min(v.low, float64(q[2])), max(v.high, float64(q[2]))
			if i > 0 {
				last := w.Path[i-1]
				dx, dy, dz := float64(q[0]-last[0]), float64(q[1]-last[1]), float64(q[2]-last[2])
				long += math.Sqrt(dx*dx + dy*dy + dz*dz)
			}
		}
		v.slack = float64(w.Length) - long
		out = append(out, v)
	}
	return out
}

// reached reports whether a hand gets at a bay while its piece is in a body. A
// place outside always is.
func (p *problem) reached(bay int, b bodies) bool {
	if bay < 0 || p.inside[bay] < 0 {
		return true
	}
	place := p.Places.Bays[bay]
	if slices.ContainsFunc(place.Reached, p.opens) {
		return true
	}
	var body []*thing
	for _, k := range b.of(p.inside[bay]) {
		body = append(body, p.things[k])
	}
	radius := math.Hypot(float64(place.Centre[0]), float64(place.Centre[1]))
	return leadsOut(body, float64(place.Centre[2]), radius, needs(place))
}

// opens reports whether something that place says leads to a bay is an opening or
// a joint that comes apart and is not bonded by another.
func (p *problem) opens(id string) bool {
	for _, o := range p.Design.Openings {
		if o.ID == id {
			return true
		}
	}
	for _, j := range p.joints {
		if j.id == id && !j.bonded {
			whole := p.glued()
			return whole[j.keeps] != whole[j.comes]
		}
	}
	return false
}

// glued are the bodies when all that is glued is.
func (p *problem) glued() bodies {
	b := p.apart()
	for _, j := range p.joints {
		if j.bonded {
			b = b.united(j.keeps, j.comes)
			for _, h := range j.hosts {
				b = b.united(j.keeps, h)
			}
		}
	}
	return b
}

// wired reports whether every wire that two bodies share when they are united can
// be connected: one end afterwards, or both before if it is long enough to hang
// between them while one slides over the other.
func (p *problem) wired(before, after bodies, keeps, comes []int, side model.Side, wires []wire) bool {
	for _, w := range wires {
		a, b := w.ends[0], w.ends[1]
		if a < 0 || b < 0 || p.inside[a] < 0 || p.inside[b] < 0 {
			continue
		}
		ka, kb := p.inside[a], p.inside[b]
		if before[ka] == before[kb] || after[ka] != after[kb] {
			continue
		}
		if !p.reached(a, after) && !p.reached(b, after) && w.slack < p.travel(keeps, comes, side) {
			return false
		}
	}
	return true
}

// travel is how far a body comes along the axis until it is in its place, and a
// hand's room to work between the two before.
func (p *problem) travel(keeps, comes []int, side model.Side) float64 {
	if side == model.FromSide {
		return handRoom
	}
	if side == model.FromFoot {
		keeps, comes = comes, keeps
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, k := range comes {
		if t := p.things[k]; len(t.rows) > 0 {
			low = min(low, t.low)
		}
	}
	for _, k := range keeps {
		if t := p.things[k]; len(t.rows) > 0 {
			high = max(high, t.high)
		}
	}
	return handRoom + max(0, high-low)
}

// handRoom is what two hands need between bodies to connect a wire, mm: common
// practice.
const handRoom = 150.0
