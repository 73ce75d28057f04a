package camera

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// unknowns is all that one fit looks for.
type unknowns struct {
	cams  []Camera     // one a photograph, of one lens
	scale [][2]float64 // true mm a printed mm in X and Y: one for all photographs, or one each
	ruler ruler        // in the first photograph
}

// layout says where each unknown stands in the vector of all: the lens, the
// photographs' poses, the mat's scales, the ruler, and what each further
// photograph has of its own of the lens.
type layout struct {
	views  int
	scales int  // 0: the print is taken as true
	edges  int  // of the ruler, 0: no ruler
	moves  bool // the lens, from photograph to photograph
}

// movable of the lens's parameters change when it focuses or is steadied: focal
// length and centre. Its distortion stays.
const movable = 3

// lens is where a parameter of the lens of a photograph stands.
func (l layout) lens(view, i int) int {
	if l.moves && view > 0 && i < movable {
		return l.own() + movable*(view-1) + i
	}
	return i
}

func (l layout) pose(view int) int { return lensParams + (Params-lensParams)*view }

// scale is where the scale of a photograph stands.
func (l layout) scale(view int) int { return l.pose(l.views) + 2*min(view, l.scales-1) }

func (l layout) ruler() int { return l.pose(l.views) + 2*l.scales }

// own is where the further photographs' own lenses begin.
func (l layout) own() int {
	if l.edges == 0 {
		return l.ruler()
	}
	return l.ruler() + rulerParams + 2*(l.edges-1)
}

func (l layout) size() int {
	if !l.moves {
		return l.own()
	}
	return l.own() + movable*(l.views-1)
}

// moved is u a step further.
func (l layout) moved(u *unknowns, step []float64) unknowns {
	out := unknowns{cams: slices.Clone(u.cams), scale: slices.Clone(u.scale), ruler: u.ruler}
	var d [Params]float64
	for v := range out.cams {
		for i := range lensParams {
			d[i] = step[l.lens(v, i)]
		}
		copy(d[lensParams:], step[l.pose(v):])
		out.cams[v] = u.cams[v].Nudge(d)
	}
	for i := range l.scales {
		at := l.scale(i)
		out.scale[i][0] += step[at]
		out.scale[i][1] += step[at+1]
	}
	if l.edges > 0 {
		out.ruler = u.ruler.moved(step[l.ruler():])
	}
	return out
}

// scaleOf is the scale of the mat in a photograph.
func (u *unknowns) scaleOf(view int) [2]float64 { return u.scale[min(view, len(u.scale)-1)] }

// sound tells whether a step led nowhere: a camera turned inside out, or below
// the mat.
func (u *unknowns) sound() bool {
	for _, c := range u.cams {
		if !(c.F > 0) || !(c.C.Z > 0) {
			return false
		}
	}
	for _, s := range u.scale {
		if !(s[0] > 0) || !(s[1] > 0) {
			return false
		}
	}
	return true
}

// row is one residual with its derivatives by the unknowns that move it.
type row struct {
	r  float64
	at []int
	by []float64
}

// miss is the residual of a mark, px, without what moves it.
func (u *unknowns) miss(view int, m *Mark) (x, y float64) {
	s := u.scaleOf(view)
	px, ok := u.cams[view].Project(r3.Vec{X: s[0] * m.Mm.X, Y: s[1] * m.Mm.Y})
	if !ok {
		return math.Inf(1), math.Inf(1)
	}
	return px.X - m.Px.X, px.Y - m.Px.Y
}

// seeMark returns the two residuals of a mark, px, with their derivatives.
func (l layout) seeMark(u *unknowns, view int, m Mark, rows *[2]row) {
	s := u.scaleOf(view)
	var d slopes
	px, ok := u.cams[view].project(r3.Vec{X: s[0] * m.Mm.X, Y: s[1] * m.Mm.Y}, &d)
	if !ok {
		px = pair{math.Inf(1), math.Inf(1)}
	}
	rows[0].r, rows[1].r = px[0]-m.Px.X, px[1]-m.Px.Y
	for k := range rows {
		l.byCamera(&rows[k], view, &d, k)
		if l.scales > 0 {
			at := l.scale(view)
			rows[k].add(at, d.place[0][k]*m.Mm.X)
			rows[k].add(at+1, d.place[1][k]*m.Mm.Y)
		}
	}
}

func (l layout) byCamera(r *row, view int, d *slopes, k int) {
	r.at, r.by = r.at[:0], r.by[:0]
	for i, s := range d.lens {
		r.add(l.lens(view, i), s[k])
	}
	at := l.pose(view)
	for i := range 3 {
		r.add(at+i, d.turn[i][k])
	}
	for i := range 3 {
		r.add(at+3+i, -d.place[i][k])
	}
}

func (r *row) add(at int, by float64) { r.at, r.by = append(r.at, at), append(r.by, by) }

// seeTick returns the residuals of a tick along the ruler and across it, px. A
// tick is found sharply along the ruler; where it ends is another matter.
func (l layout) seeTick(u *unknowns, t Tick, edge int, rows *[2]row) {
	p, by := u.ruler.place(t.At, edge)
	var d slopes
	px, ok := u.cams[0].project(p, &d)
	if !ok {
		px = pair{math.Inf(1), math.Inf(1)}
	}
	s, c := math.Sincos(u.ruler.turn)
	dir := r2.Vec{X: c*d.place[0][0] + s*d.place[1][0], Y: c*d.place[0][1] + s*d.place[1][1]}
	if n := r2.Norm(dir); n > 0 {
		dir = r2.Scale(1/n, dir)
	}
	// Everything turned into along and across.
	turned := func(p pair) pair { return pair{p[0]*dir.X + p[1]*dir.Y, p[1]*dir.X - p[0]*dir.Y} }
	off := turned(pair{px[0] - t.Px.X, px[1] - t.Px.Y})
	rows[0].r, rows[1].r = off[0], off[1]
	for i := range d.lens {
		d.lens[i] = turned(d.lens[i])
	}
	for i := range 3 {
		d.turn[i], d.place[i] = turned(d.turn[i]), turned(d.place[i])
	}
	at := l.ruler()
	for k := range rows {
		l.byCamera(&rows[k], 0, &d, k)
		for i, q := range by {
			g := d.place[0][k]*q.X + d.place[1][k]*q.Y + d.place[2][k]*q.Z
			switch {
			case i < rulerParams:
				rows[k].add(at+i, g)
			case edge > 0:
				rows[k].add(at+rulerParams+2*(edge-1)+i-rulerParams, g)
			}
		}
	}
}
