package measure

import (
	"math"
	"slices"
)

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
	for _, b := range m.brushes {
		m.painted(b, func(i int) { g.on[i] = b.In })
	}
	// An object hides lines side by side, a step apart: what lies between is filled in.
	// A scratch or a figure hides a piece or two.
	gap := int(math.Ceil(hidingGap * min(m.pitch[0], m.pitch[1]) * m.scale))
	g = g.grow(gap, true).grow(gap, false)
	well := grid{r.w, r.h, m.region}.grow(gap+1, false).on
	best, most := blob{}, 0
	for _, b := range g.blobs(m.region) {
		n := len(b.pixels)
		if float64(n) < leastObject*m.scale*m.scale {
			continue
		}
		if slices.ContainsFunc(b.pixels, func(i int) bool { return !well[i] }) {
			n /= hidingOver
		}
		if n > most && !shapeOf(b, g.w).ruler(m.scale) {
			best, most = b, n
		}
	}
	if most == 0 {
		return grid{}
	}
	return g.only(best)
}

// hidingGap is half of how much of the grid's step is filled in between what is hidden, and
// hidingOver by how much what reaches over the edge of what is looked at must be larger than
// what does not: a sheet that lies over a corner of the mat hides lines too.
const (
	hidingGap  = 0.3
	hidingOver = 4
)
