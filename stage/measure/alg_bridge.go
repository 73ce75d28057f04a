package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// An object that lies across a ruler of its own colour shows as two pieces, one on each
// side of it.
const (
	bridgeReach = 1.5      // mm from the ruler, that a piece of one may end before it
	bridgeLeast = 3.0      // mm of the ruler's border that a piece lies along
	bridgeMost  = 60.0     // mm from piece to piece
	bridgeTurn  = 15 * deg // between the way across and the joined pieces' own
)

// bridged is the objects with the first one's other piece joined to it, if there is one.
func (m *ground) bridged(all []grid) []grid {
	for k := 1; k < len(all); k++ {
		for _, face := range m.faces {
			over, ok := m.bridge(all[0], all[k], grid{all[0].w, all[0].h, face})
			if !ok {
				continue
			}
			joined := all[0].clone()
			joined.add(all[k])
			joined.add(grid{joined.w, joined.h, over})
			m.beside = make([]bool, len(face))
			under := grid{joined.w, joined.h, over}.grow(m.thin, true)
			for i, on := range face {
				m.beside[i] = on && !under.on[i]
			}
			rest := slices.Delete(slices.Clone(all), k, k+1)
			return append([]grid{joined}, rest[1:]...)
		}
	}
	return all
}

// bridge is what lies between two pieces that end at a ruler on its two sides and run on
// across it.
func (m *ground) bridge(a, b, face grid) ([]bool, bool) {
	near := face.grow(m.thin+int(math.Ceil(bridgeReach*m.scale)), true)
	ends := func(g grid) (pts []r2.Vec, mean r2.Vec, wide float64) {
		var lo, hi r2.Vec
		for i, on := range g.on {
			if !on || !near.on[i] {
				continue
			}
			p := r2.Vec{X: float64(i % g.w), Y: float64(i / g.w)}
			if len(pts) == 0 {
				lo, hi = p, p
			}
			lo, hi = r2.Vec{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}, r2.Vec{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
			pts, mean = append(pts, p), r2.Add(mean, p)
		}
		return pts, r2.Scale(1/float64(max(len(pts), 1)), mean), r2.Norm(r2.Sub(hi, lo))
	}
	pa, ca, wa := ends(a)
	pb, cb, wb := ends(b)
	if min(wa, wb) < bridgeLeast*m.scale {
		return nil, false
	}
	way := r2.Sub(cb, ca)
	if r2.Norm(way) > bridgeMost*m.scale || !m.crosses(face, ca, cb) {
		return nil, false
	}
	both := a.clone()
	both.add(b)
	turn := math.Mod(math.Atan2(way.Y, way.X)-m.shape(both).angle+2.5*math.Pi, math.Pi) - math.Pi/2
	if math.Abs(turn) > bridgeTurn {
		return nil, false
	}
	polygon := hull(append(pa, pb...))
	for i, p := range polygon {
		polygon[i] = m.reduced.full(p.X, p.Y)
	}
	return m.reduced.inside(polygon), true
}

// crosses reports whether the way from one place to another, reduced pixels, runs over a
// ruler.
func (m ground) crosses(face grid, a, b r2.Vec) bool {
	const steps = 20
	over := 0
	for k := range steps + 1 {
		p := r2.Add(a, r2.Scale(float64(k)/steps, r2.Sub(b, a)))
		if face.on[int(p.Y)*face.w+int(p.X)] {
			over++
		}
	}
	return over > steps/2
}
