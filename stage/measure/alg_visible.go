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
// factor along the same line. One that does not show where it should says that
// something lies over it. It is looked at in pieces.
const (
	pieceMM     = 1.0
	besideMM    = 1.0  // where the mat beside it is looked at
	sureMM      = 1.5  // as far to either side of it the mat shows with it
	clearMM     = 0.8  // of the line, so that it is not counted with the mat's grain
	leastInk    = 0.04 // contrast of a line that can be told from the mat's grain
	leastShows  = 0.5  // of the line's common contrast
	mostShows   = 2.0
	hiddenShows = 0.3 // of it, under which a piece does not show
	mostOneSide = 0.5 // of the contrast: how much its two sides may differ
)

// says is what the grid says of a pixel.
type says uint8

const (
	saysMat    says = 1 << iota // beside a piece of a line that shows
	saysBare                    // and clear of the line itself
	saysHidden                  // where a line should show and does not
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

// next is the dash so many further along the same line.
func (q dash) next(by int) dash { return dash{q.axis, q.line, q.k + by} }

// near are the dashes, of lines of one X and of one Y, within sureMM of a place; axis
// is -1 where there is none. off is how far the nearest line is, mm.
func (m ground) near(at r2.Vec) (pair [2]dash, off float64) {
	v := [2]float64{at.X, at.Y}
	off = math.Inf(1)
	for axis := range 2 {
		pair[axis].axis = -1
		line := math.Round(v[axis] / m.pitch[axis])
		d := math.Abs(v[axis] - line*m.pitch[axis])
		off = min(off, d)
		if d < sureMM {
			pair[axis] = dash{axis, int(line), int(math.Floor(v[1-axis] / pieceMM))}
		}
	}
	return pair, off
}

// readGrid fills in what the grid says of every pixel within the region.
func (m ground) readGrid(l *look) {
	l.says = make([]says, len(l.box))
	if min(m.pitch[0], m.pitch[1]) <= 0 { // no mat, but a table
		return
	}
	shows := m.dashes(l)
	all := slices.Sorted(maps.Values(shows))
	if len(all) == 0 || math.Abs(all[len(all)/2]) < leastInk {
		return
	}
	l.printed = true
	common := all[len(all)/2]
	share := func(q dash) float64 { return shows[q] / common }
	threefold := func(q dash, is func(share float64) bool) bool {
		return is(share(q)) && is(share(q.next(-1))) && is(share(q.next(1)))
	}
	mat, hidden := map[dash]bool{}, map[dash]bool{}
	for q := range shows {
		mat[q] = threefold(q, func(s float64) bool { return s > leastShows && s < mostShows })
		hidden[q] = threefold(q, func(s float64) bool { return math.Abs(s) < hiddenShows })
	}
	for i := range l.says {
		at, ok := l.at(i)
		if !ok {
			continue
		}
		if !m.region[i] {
			continue
		}
		pair, off := m.near(at)
		for _, q := range pair {
			if q.axis < 0 {
				continue
			}
			if mat[q] {
				l.says[i] |= saysMat
			}
			if hidden[q] {
				l.says[i] |= saysHidden
			}
		}
		if l.says[i]&saysMat != 0 {
			l.says[i] &^= saysHidden
			if off > clearMM {
				l.says[i] |= saysBare
			}
		}
	}
}

// dashes is the contrast of every dash within the region.
func (m ground) dashes(l *look) map[dash]float64 {
	r := m.reduced
	lo, hi := r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for i, in := range m.region {
		if at, ok := l.at(i); in && ok {
			lo = r2.Vec{X: min(lo.X, at.X), Y: min(lo.Y, at.Y)}
			hi = r2.Vec{X: max(hi.X, at.X), Y: max(hi.Y, at.Y)}
		}
	}
	out := map[dash]float64{}
	from, to := [2]float64{lo.X, lo.Y}, [2]float64{hi.X, hi.Y}
	for axis := range 2 {
		across := r2.Vec{X: 1}
		if axis == 1 {
			across = r2.Vec{Y: 1}
		}
		for line := math.Ceil(from[axis] / m.pitch[axis]); line*m.pitch[axis] <= to[axis]; line++ {
			for k := math.Floor(from[1-axis] / pieceMM); k*pieceMM <= to[1-axis]; k++ {
				q := dash{axis, int(line), int(k)}
				mid := m.middleOf(q)
				px, ok := m.cam.Project(mid)
				x, y := r.from(px)
				if !ok || x < 0 || y < 0 || x >= r.w || y >= r.h || !m.region[y*r.w+x] {
					continue
				}
				out[q] = m.contrast(r2.Vec{X: mid.X, Y: mid.Y}, across)
			}
		}
	}
	return out
}

// middleOf is the middle of a dash on the mat.
func (m ground) middleOf(q dash) r3.Vec {
	line, mid := float64(q.line)*m.pitch[q.axis], (float64(q.k)+0.5)*pieceMM
	if q.axis == 1 {
		line, mid = mid, line
	}
	return r3.Vec{X: line, Y: mid}
}
