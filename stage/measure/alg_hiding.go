package measure

import "math"

// hiding is where printed lines of the grid do not show though they should: the
// largest patch of it that no ruler explains. It is a rough guess of the object,
// whatever its colour; nothing where an object is too small to cover lines.
func (m ground) hiding() grid {
	if !m.looks.printed {
		return grid{}
	}
	r := m.reduced
	g := grid{r.w, r.h, make([]bool, r.w*r.h)}
	for i, s := range m.looks.says {
		g.on[i] = s&saysHidden != 0
	}
	for _, face := range m.faces {
		for i, on := range face {
			g.on[i] = g.on[i] && !on
		}
	}
	for _, b := range m.brushes {
		m.painted(b, func(i int) { g.on[i] = b.In })
	}
	// An object hides lines side by side, a step apart: what lies between is filled in.
	// A scratch or a figure hides a piece or two.
	gap := int(math.Ceil(hidingGap * min(m.pitch[0], m.pitch[1]) * m.scale))
	g = g.grow(gap, true).grow(gap, false)
	best, most := blob{}, 0
	for _, b := range g.blobs(m.region) {
		if n := len(b.pixels); n > most && !shapeOf(b, g.w).ruler(m.scale) {
			best, most = b, n
		}
	}
	if float64(most) < leastObject*m.scale*m.scale {
		return grid{}
	}
	return g.only(best)
}

// hidingGap is half of how much of the grid's step is filled in between what is hidden.
const hidingGap = 0.3
