package measure

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/limb"
)

// A narrow groove stands off its neighbours as the end of a printed line does, and its
// points are taken for strays. What stands in on both sides of a body at the same stations,
// and as deep, is turned.
const (
	grooveDeep  = 1.2 // pixels, at least
	grooveWide  = 6.0 // mm, at most: wider ones tell by themselves
	grooveGap   = 0.6 // mm, between points of one groove
	grooveLeast = 4   // points on each side
	grooveAlike = 2.0 // times as deep one side may be as the other
	grooveEven  = 0.2 // mm, between its shoulders
	grooveSigma = 0.3 // pixels, of a point with corners close by
)

// dent is a stretch of one side's edge that lies inside the outline.
type dent struct {
	from, to float64 // stations
	deep     float64 // mm, the most
	points   []int   // of the edge
}

// grooved marks the edge points of narrow grooves.
func (v view) grooved(o *solution) {
	for i := range v.edge {
		v.edge[i].groove = false
	}
	for _, d := range v.grooves(o.axis, &o.form) {
		for _, i := range d.points {
			v.edge[i].groove = true
		}
	}
}

// grooves are the dents that both sides have.
func (v view) grooves(ax axis, g *form) []dent { return paired(v.dents(ax, g)) }

// paired are the dents of one side that the other has too.
func paired(sides [2][]dent) (out []dent) {
	for _, a := range sides[0] {
		for _, b := range sides[1] {
			shared := min(a.to, b.to) - max(a.from, b.from)
			alike := max(a.deep, b.deep) < grooveAlike*min(a.deep, b.deep)
			if alike && 2*shared > min(a.to-a.from, b.to-b.from) {
				out = append(out, dent{(a.from + b.from) / 2, (a.to + b.to) / 2, (a.deep + b.deep) / 2, slices.Concat(a.points, b.points)})
			}
		}
	}
	return out
}

// dents are the stretches of both sides that lie inside an outline, and are no wider than a
// groove; not at its ends.
func (v view) dents(ax axis, g *form) (sides [2][]dent) {
	parts, most := g.parts(), g.most()
	lo, hi := g.joints[0].s+grooveWide, g.joints[len(g.joints)-1].s-grooveWide
	across := r3.Cross(ax.u, r3.Sub(v.cam.C, ax.p))
	type place struct {
		s, deep float64
		i       int
	}
	var places [2][]place
	for i, e := range v.edge {
		if !e.good && !e.stray {
			continue
		}
		p := limb.PassOf(ax.p, ax.u, v.cam.C, v.sight[i].d)
		m := touches(parts, &p, most)
		px := -m.gap * v.cam.F / p.Depth
		if !m.ok || px < grooveDeep || px > againMost || m.at.s < lo || m.at.s > hi {
			continue
		}
		k := 0
		if r3.Dot(v.sight[i].d, across) < 0 {
			k = 1
		}
		places[k] = append(places[k], place{m.at.s, -m.gap, i})
	}
	for k := range places {
		slices.SortFunc(places[k], func(a, b place) int { return cmp.Compare(a.s, b.s) })
		for _, p := range places[k] {
			n := len(sides[k])
			if n == 0 || p.s-sides[k][n-1].to > grooveGap {
				sides[k] = append(sides[k], dent{from: p.s})
				n++
			}
			d := &sides[k][n-1]
			d.to, d.deep, d.points = p.s, max(d.deep, p.deep), append(d.points, p.i)
		}
		sides[k] = slices.DeleteFunc(sides[k], func(d dent) bool { return len(d.points) < grooveLeast || d.to-d.from > grooveWide })
	}
	return sides
}

// grooves counts the narrow grooves with square shoulders as high as each other.
func (g *form) grooves() (n int) {
	for i := 0; i+3 < len(g.joints); i++ {
		q := g.joints[i : i+4]
		faces := g.spans[i].kind == faceSpan && g.spans[i+1].kind == lineSpan && g.spans[i+2].kind == faceSpan
		if faces && q[1].r < q[0].r && q[2].r < q[3].r && q[2].s-q[1].s < grooveWide && !g.slit(i+1) && math.Abs(q[0].r-q[3].r) < grooveEven {
			n++
		}
	}
	return n
}
