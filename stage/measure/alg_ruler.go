package measure

import (
	"math"

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

// findRuler finds where a ruler lies, by its ticks, and takes its print out of what is seen
// there.
func (m *ground) findRuler() {
	face, told, ok := m.rulerStrip()
	if !ok {
		return
	}
	var corners []r2.Vec
	for _, c := range [4][2]float64{{face.lo.X, face.lo.Y}, {face.hi.X, face.lo.Y}, {face.hi.X, face.hi.Y}, {face.lo.X, face.hi.Y}} {
		q := face.place(c[0], c[1])
		px, ok := m.cam.Project(r3.Vec{X: q.X, Y: q.Y})
		if !ok {
			return
		}
		corners = append(corners, px)
	}
	on := m.reduced.inside(corners)
	m.faces = [][]bool{on}
	if told {
		p := printOf(face, m.ticks, m.cam)
		m.ruled = on
		m.calmRuler(&p, on)
		m.readRuler(&p, on)
	}
}

// onRuler is the reduced pixel of a place of the full picture where a ruler's print was
// taken out of what is seen.
func (m ground) onRuler(px r2.Vec) (i int, ok bool) {
	if m.ruled == nil {
		return 0, false
	}
	x, y := m.reduced.from(px)
	if x < 0 || y < 0 || x >= m.reduced.w || y >= m.reduced.h {
		return 0, false
	}
	i = y*m.reduced.w + x
	return i, m.ruled[i]
}

// likeRuler is by how much, of the logarithm of light, a ruler's own look may seem to change
// along it.
const likeRuler = 0.15

// looksRuled reports whether a reduced pixel looks as the ruler does there.
func (m ground) looksRuled(i int) bool {
	if m.ruled == nil || !m.ruled[i] {
		return false
	}
	q := m.looks.calm[i]
	return max(q[0], q[1], q[2]) < likeRuler && min(q[0], q[1], q[2]) > -likeRuler
}

// bareAt is the colour of the bare mat, or of the ruler that lies on it, at a place of the
// full picture.
func (m ground) bareAt(px r2.Vec) colour {
	out := m.bare.bare(px.X, px.Y)
	if i, ok := m.onRuler(px); ok {
		for c := range out {
			own := float64(m.looks.ratio[i][c] - m.looks.calm[i][c])
			out[c] = max(0, (out[c]+lightFloor)*math.Exp(own)-lightFloor)
		}
	}
	return out
}

// rulerStrip is the face of the ruler that was found; told is false where it is not to be told
// from what lies beside it.
func (m ground) rulerStrip() (face strip, told, ok bool) {
	if len(m.ticks) == 0 {
		return face, false, false
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
		return face, false, false
	}
	d := r2.Unit(r2.Sub(b, a))
	n := r2.Vec{X: -d.Y, Y: d.X}
	lo, hi := r2.Vec{}, r2.Vec{}
	for _, q := range at {
		t, o := r2.Dot(r2.Sub(q, a), d), r2.Dot(r2.Sub(q, a), n)
		lo, hi = r2.Vec{X: min(lo.X, t), Y: min(lo.Y, o)}, r2.Vec{X: max(hi.X, t), Y: max(hi.Y, o)}
	}
	face, told = m.faceOf(strip{at: a, along: d, across: n, lo: lo, hi: hi})
	return face, told, true
}
