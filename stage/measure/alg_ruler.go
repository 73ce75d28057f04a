package measure

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// How far beyond its outermost ticks, mm, a ruler may reach where its own colour does
// not tell: to its ends, and to the edge past the middle of a row.
const (
	rulerEnd   = 15.0
	rulerEdge  = 5.0
	leastRuler = 12.0 // from edge to edge
	rulerWide  = 35.0 // of one that shows a single row of ticks
)

// rulers are masks of where a ruler may lie, by its ticks.
func (m ground) rulers() [][]bool {
	if len(m.ticks) == 0 {
		return nil
	}
	var a, b r2.Vec
	first := true
	var at []r2.Vec
	for _, t := range m.ticks {
		p, ok := m.cam.OnPlane(t.Px, 0)
		if !ok {
			continue
		}
		q := r2.Vec{X: p.X, Y: p.Y}
		at = append(at, q)
		if t.Edge == m.ticks[0].Edge {
			if first {
				a = q
			}
			b, first = q, false
		}
	}
	if r2.Norm(r2.Sub(b, a)) < 1 {
		return nil
	}
	d := r2.Unit(r2.Sub(b, a))
	n := r2.Vec{X: -d.Y, Y: d.X}
	lo, hi := r2.Vec{}, r2.Vec{}
	for _, q := range at {
		t, o := r2.Dot(r2.Sub(q, a), d), r2.Dot(r2.Sub(q, a), n)
		lo, hi = r2.Vec{X: min(lo.X, t), Y: min(lo.Y, o)}, r2.Vec{X: max(hi.X, t), Y: max(hi.Y, o)}
	}
	f := m.faceOf(strip{at: a, along: d, across: n, lo: lo, hi: hi})
	var corners []r2.Vec
	for _, c := range [4][2]float64{{f.lo.X, f.lo.Y}, {f.hi.X, f.lo.Y}, {f.hi.X, f.hi.Y}, {f.lo.X, f.hi.Y}} {
		q := f.place(c[0], c[1])
		px, ok := m.cam.Project(r3.Vec{X: q.X, Y: q.Y})
		if !ok {
			return nil
		}
		corners = append(corners, px)
	}
	return [][]bool{m.reduced.inside(corners)}
}
