package measure

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// hiding is where printed lines of the grid do not show though they should: the
// largest patch of it that no ruler explains. It is a rough guess of the object,
// whatever its colour; nothing where an object is too small to cover lines.
func (m ground) hiding() grid {
	r := m.reduced
	whole := patch{x0: 0, y0: 0, w: r.w, h: r.h}
	shows := m.dashes(whole)
	g := grid{r.w, r.h, make([]bool, r.w*r.h)}
	half := int(math.Ceil(0.75 * m.scale))
	for _, q := range slices.SortedFunc(maps.Keys(shows), dash.compare) {
		if shows[q] {
			continue
		}
		px, ok := m.cam.Project(m.middleOf(q))
		x, y := r.from(px)
		if !ok || x < half || y < half || x >= r.w-half || y >= r.h-half || !m.region[y*r.w+x] {
			continue
		}
		for dy := -half; dy <= half; dy++ {
			for dx := -half; dx <= half; dx++ {
				g.on[(y+dy)*r.w+x+dx] = true
			}
		}
	}
	// A scratch or a figure hides a piece or two; an object hides pieces side by side
	// on lines a step apart.
	g = g.grow(max(1, half), false).grow(max(1, half), true)
	for _, face := range m.faces {
		for i, on := range face {
			g.on[i] = g.on[i] && !on
		}
	}
	for _, b := range m.brushes {
		m.painted(b, func(i int) { g.on[i] = b.In })
	}
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

// compare puts dashes in order, so that a patch does not hang on chance.
func (q dash) compare(o dash) int {
	return cmp.Or(cmp.Compare(q.axis, o.axis), cmp.Compare(q.line, o.line), cmp.Compare(q.k, o.k))
}

// middleOf is the middle of a dash on the mat.
func (m ground) middleOf(q dash) r3.Vec {
	line, mid := float64(q.line)*m.pitch[q.axis], (float64(q.k)+0.5)*pieceMM
	if q.axis == 1 {
		line, mid = mid, line
	}
	return r3.Vec{X: line, Y: mid}
}

// dashes tells of every dash of a line within a patch whether it shows.
func (m ground) dashes(p patch) map[dash]bool {
	s := showing{m, map[dash]float64{}}
	// every pixel would ask for the same ones: look along the lines instead
	lo, hi := r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for y := 0; y < p.h; y += 8 {
		for x := 0; x < p.w; x += 8 {
			if !m.region[(p.y0+y)*m.reduced.w+p.x0+x] {
				continue
			}
			if at, ok := m.cam.OnPlane(m.reduced.full(float64(p.x0+x), float64(p.y0+y)), 0); ok {
				lo = r2.Vec{X: min(lo.X, at.X), Y: min(lo.Y, at.Y)}
				hi = r2.Vec{X: max(hi.X, at.X), Y: max(hi.Y, at.Y)}
			}
		}
	}
	from, to := [2]float64{lo.X, lo.Y}, [2]float64{hi.X, hi.Y}
	for axis := range 2 {
		for line := math.Ceil(from[axis] / m.pitch[axis]); line*m.pitch[axis] <= to[axis]; line++ {
			for k := math.Floor(from[1-axis] / pieceMM); k*pieceMM <= to[1-axis]; k++ {
				s.of(dash{axis, int(line), int(k)})
			}
		}
	}
	out := map[dash]bool{}
	if len(s.contrast) == 0 {
		return out
	}
	all := slices.Sorted(maps.Values(s.contrast))
	common := all[len(all)/2]
	if math.Abs(common) < leastInk {
		return out
	}
	for q, c := range s.contrast {
		share := c / common
		out[q] = share > hiddenShows
	}
	return out
}

// hiddenShows is the share of the common contrast under which a piece does not show.
const hiddenShows = 0.3
