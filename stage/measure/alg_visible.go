package measure

import (
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A printed line that shows, in the light or in shadow, says that there is nothing
// on the mat there: nothing else stands out from what lies beside it by the same
// factor along the same line. It is looked at in pieces.
const (
	pieceMM     = 1.0
	besideMM    = 1.0  // where the mat beside it is looked at
	sureMM      = 1.5  // as far to either side of it the mat shows with it
	clearMM     = 0.8  // of the line, so that it is not counted with the mat's grain
	leastInk    = 0.04 // contrast of a line that can be told from the mat's grain
	leastShows  = 0.5  // of the line's common contrast
	mostShows   = 2.0
	mostOneSide = 0.5 // of the contrast: how much its two sides may differ
)

// contrast is how much a piece of a line stands out from the mat beside it, as a
// share; zero where its two sides differ too much.
func (m ground) contrast(at, across r2.Vec) float64 {
	var sum [3]float64
	along := r2.Vec{X: across.Y, Y: across.X}
	for _, t := range [3]float64{-0.3, 0, 0.3} {
		for k, o := range [3]float64{0, -besideMM, besideMM} {
			q := r2.Add(at, r2.Add(r2.Scale(t*pieceMM, along), r2.Scale(o, across)))
			px, ok := m.cam.Project(r3.Vec{X: q.X, Y: q.Y})
			if !ok {
				return 0
			}
			sum[k] += m.reduced.lightAt(px)
		}
	}
	side := (sum[1] + sum[2]) / 2
	c := (sum[0] - side) / (side + lightFloor)
	if math.Abs(sum[1]-sum[2])/(side+lightFloor) > mostOneSide*math.Abs(c) {
		return 0
	}
	return c
}

// lightAt is the light at a place of the full picture, by bilinear interpolation.
func (r *reduced) lightAt(px r2.Vec) float64 {
	k := float64(r.n-1) / 2
	x := min(max((px.X-k)/float64(r.n), 0), float64(r.w)-1.001)
	y := min(max((px.Y-k)/float64(r.n), 0), float64(r.h)-1.001)
	x0, y0 := int(x), int(y)
	fx, fy := x-float64(x0), y-float64(y0)
	at := func(x, y int) float64 {
		i := 3 * (y*r.w + x)
		return float64(r.lin[i] + r.lin[i+1] + r.lin[i+2])
	}
	top := at(x0, y0)*(1-fx) + at(x0+1, y0)*fx
	low := at(x0, y0+1)*(1-fx) + at(x0+1, y0+1)*fx
	return top*(1-fy) + low*fy
}

// dash is a millimetre of a line of the grid: of those of one X or of one Y.
type dash struct{ axis, line, k int }

// showing measures pieces as they are asked for.
type showing struct {
	m        ground
	contrast map[dash]float64
}

func (s showing) of(q dash) float64 {
	c, done := s.contrast[q]
	if !done {
		mid, across := s.m.middleOf(q), r2.Vec{X: 1}
		if q.axis == 1 {
			across = r2.Vec{Y: 1}
		}
		c = s.m.contrast(r2.Vec{X: mid.X, Y: mid.Y}, across)
		s.contrast[q] = c
	}
	return c
}

// sureMat is which pixels of a patch show the mat for certain: those beside a piece
// of a printed line that shows, and its neighbours with it.
//
// Beside are those of them that are clear of the line itself: bare mat, in the
// light or in whatever shadow lies there.
func (m ground) sureMat(p patch) (sure, beside []bool) {
	pieces, clear := make([][2]dash, p.w*p.h), make([]bool, p.w*p.h)
	s := showing{m, map[dash]float64{}}
	for i := range pieces {
		pieces[i][0].axis, pieces[i][1].axis, clear[i] = -1, -1, true
		at, ok := m.cam.OnPlane(m.reduced.full(float64(p.x0+i%p.w), float64(p.y0+i/p.w)), 0)
		if !ok {
			continue
		}
		v := [2]float64{at.X, at.Y}
		for axis := range 2 {
			line := math.Round(v[axis] / m.pitch[axis])
			off := math.Abs(v[axis] - line*m.pitch[axis])
			clear[i] = clear[i] && off > clearMM
			if off < sureMM {
				q := dash{axis, int(line), int(math.Floor(v[1-axis] / pieceMM))}
				pieces[i][axis] = q
				s.of(q)
			}
		}
	}
	all := slices.Sorted(maps.Values(s.contrast))
	sure, beside = make([]bool, len(pieces)), make([]bool, len(pieces))
	if len(all) == 0 {
		return sure, beside
	}
	common := all[len(all)/2]
	if math.Abs(common) < leastInk {
		return sure, beside
	}
	shows := func(q dash) bool {
		share := s.of(q) / common
		return share > leastShows && share < mostShows
	}
	mat := map[dash]bool{}
	for q := range maps.Clone(s.contrast) {
		mat[q] = shows(q) && shows(dash{q.axis, q.line, q.k - 1}) && shows(dash{q.axis, q.line, q.k + 1})
	}
	for i, pair := range pieces {
		sure[i] = pair[0].axis >= 0 && mat[pair[0]] || pair[1].axis >= 0 && mat[pair[1]]
		beside[i] = sure[i] && clear[i]
	}
	return sure, beside
}
