package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Brush is a stroke that the maker painted on the photograph: what lies under it is
// the object, or is not. It is kept as a line on the mat, not in pixels, so that it
// stays where it is when the camera is fitted anew.
type Brush struct {
	In      bool         // of the object; else of the mat
	WidthMM float64      // across the stroke, mm on the mat
	Path    [][2]float64 // mm on the mat; one point is a dab
}

// painted calls a pixel of the reduced picture for each one whose centre, taken down
// to the mat, lies within half the stroke's width of its line.
func (m ground) painted(b Brush, call func(i int)) {
	half := b.WidthMM / 2
	if half <= 0 || len(b.Path) == 0 {
		return
	}
	x0, y0, x1, y1 := m.boxOf(b, half)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			p, ok := m.cam.OnPlane(m.reduced.full(float64(x), float64(y)), 0)
			if ok && b.off(r2.Vec{X: p.X, Y: p.Y}) <= half {
				call(y*m.reduced.w + x)
			}
		}
	}
}

// boxOf is the reduced pixels that a stroke can reach, by the corners of the squares
// round its points: a camera takes what is convex to what is convex, and its lens
// bends it by less than the margin.
func (m ground) boxOf(b Brush, half float64) (x0, y0, x1, y1 int) {
	const margin = 3
	w, h := m.reduced.w, m.reduced.h
	x0, y0, x1, y1 = w, h, -1, -1
	for _, p := range b.Path {
		for _, d := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
			px, ok := m.cam.Project(r3.Vec{X: p[0] + half*d[0], Y: p[1] + half*d[1]})
			if !ok {
				return 0, 0, w - 1, h - 1
			}
			x, y := m.reduced.from(px)
			x0, y0, x1, y1 = min(x0, x-margin), min(y0, y-margin), max(x1, x+margin), max(y1, y+margin)
		}
	}
	return max(x0, 0), max(y0, 0), min(x1, w-1), min(y1, h-1)
}

// off is how far a place of the mat lies from the stroke's line, mm.
func (b Brush) off(p r2.Vec) float64 {
	least := math.Inf(1)
	for i, to := range b.Path {
		from := b.Path[max(i-1, 0)]
		a, d := r2.Vec{X: from[0], Y: from[1]}, r2.Vec{X: to[0] - from[0], Y: to[1] - from[1]}
		t := 0.0
		if dd := r2.Dot(d, d); dd > 0 {
			t = min(max(r2.Dot(r2.Sub(p, a), d)/dd, 0), 1)
		}
		least = min(least, r2.Norm(r2.Sub(p, r2.Add(a, r2.Scale(t, d)))))
	}
	return least
}

// brushedKinds takes the strokes into what each pixel is taken for, before objects
// are looked for: so a stroke parts two things that run together, or fills a gap. A
// later stroke has its way over an earlier one.
func (m ground) brushedKinds(kinds []kind) []kind {
	for _, b := range m.brushes {
		is := bare
		if b.In {
			is = coloured
		}
		m.painted(b, func(i int) { kinds[i] = is })
	}
	return kinds
}

// brushed forces the strokes upon the mask of the object, whatever was made of its
// colours, and keeps the largest patch of it, without holes.
func (m ground) brushed(g grid) grid {
	if len(m.brushes) == 0 {
		return g
	}
	g = g.clone()
	for _, b := range m.brushes {
		m.painted(b, func(i int) { g.on[i] = b.In })
	}
	all := make([]bool, len(g.on))
	for i := range all {
		all[i] = true
	}
	var largest blob
	for _, b := range g.blobs(all) {
		if len(b.pixels) > len(largest.pixels) {
			largest = b
		}
	}
	return g.only(largest)
}

// wanted puts the object first that the strokes say most of; where none was told
// from the mat at all, what was painted is the object.
func (m ground) wanted(objects []grid) []grid {
	in := make([]bool, m.reduced.w*m.reduced.h)
	any := false
	for _, b := range m.brushes {
		m.painted(b, func(i int) { in[i] = b.In; any = any || b.In })
	}
	if !any {
		return objects
	}
	if len(objects) == 0 {
		return []grid{{m.reduced.w, m.reduced.h, in}}
	}
	best, most := 0, -1
	for k, g := range objects {
		n := 0
		for i, on := range g.on {
			if on && in[i] {
				n++
			}
		}
		if n > most {
			best, most = k, n
		}
	}
	out := []grid{objects[best]}
	for k, g := range objects {
		if k != best {
			out = append(out, g)
		}
	}
	return out
}
