package measure

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/camera"
)

// A ruler is printed as the mat is, and over and over: what it looks like at a place hangs
// on how far across that lies and on where between two longer strokes. So its face and its
// strokes are taken out of what is seen, as the grid's lines are.
const (
	printAcross = 0.3  // mm across that are alike
	printAlong  = 0.25 // mm along
	printEvery  = 5.0  // mm from longer stroke to longer stroke
	printLeast  = 4    // pixels that say what a place looks like
	printPast   = 1.5  // mm past the face: its flank, and the shadow of that
)

// rulerPrint is the print of a ruler: its face, and its rows of strokes.
type rulerPrint struct {
	strip
	rows []strokeRow
}

// strokeRow is a row of strokes: how far across it lies, which of the two edges it
// follows, and where along strokes stand, by number.
type strokeRow struct {
	y, edge, inwards float64
	strokes          []strokeAt
}

type strokeAt struct{ x, number float64 }

// printOf is the print of the ruler with these ticks and this face.
func printOf(face strip, ticks []camera.Tick, cam *camera.Camera) rulerPrint {
	of := map[int]*strokeRow{}
	var order []int
	for _, t := range ticks {
		p, ok := cam.OnPlane(t.Px, 0)
		if !ok {
			continue
		}
		if of[t.Edge] == nil {
			of[t.Edge] = &strokeRow{}
			order = append(order, t.Edge)
		}
		q := face.own(r2.Vec{X: p.X, Y: p.Y})
		r := of[t.Edge]
		r.y += q.Y
		r.strokes = append(r.strokes, strokeAt{q.X, t.At})
	}
	out := rulerPrint{strip: face}
	for _, k := range order {
		r := of[k]
		if len(r.strokes) < 2 {
			continue
		}
		r.y /= float64(len(r.strokes))
		r.edge, r.inwards = face.lo.Y, 1
		if face.hi.Y-r.y < r.y-face.lo.Y {
			r.edge, r.inwards = face.hi.Y, -1
		}
		slices.SortFunc(r.strokes, func(a, b strokeAt) int { return cmp.Compare(a.x, b.x) })
		out.rows = append(out.rows, *r)
	}
	return out
}

// own is a place of the mat along the strip and across it.
func (s strip) own(mm r2.Vec) r2.Vec {
	d := r2.Sub(mm, s.at)
	return r2.Vec{X: r2.Dot(d, s.along), Y: r2.Dot(d, s.across)}
}

// number is how many millimetres of the ruler lie before a place along it.
func (r *strokeRow) number(x float64) float64 {
	n := len(r.strokes)
	k, _ := slices.BinarySearchFunc(r.strokes, x, func(s strokeAt, x float64) int { return cmp.Compare(s.x, x) })
	k = min(max(k, 1), n-1)
	a, b := r.strokes[k-1], r.strokes[k]
	return a.number + (x-a.x)/(b.x-a.x)*(b.number-a.number)
}

// x is where along the ruler a millimetre lies.
func (r *strokeRow) x(number float64) float64 {
	n := len(r.strokes)
	way := math.Copysign(1, r.strokes[n-1].number-r.strokes[0].number)
	k, _ := slices.BinarySearchFunc(r.strokes, number*way, func(s strokeAt, at float64) int { return cmp.Compare(s.number*way, at) })
	k = min(max(k, 1), n-1)
	a, b := r.strokes[k-1], r.strokes[k]
	return a.x + (number-a.number)/(b.number-a.number)*(b.x-a.x)
}

// nearest is the row of strokes nearest to a place across.
func (p *rulerPrint) nearest(y float64) int {
	best := 0
	for k := range p.rows {
		if math.Abs(p.rows[k].y-y) < math.Abs(p.rows[best].y-y) {
			best = k
		}
	}
	return best
}

// printCell is a place that looks alike all along a ruler.
type printCell struct{ row, across, along int16 }

// anyAlong is wherever along the ruler: past the strokes that were read, or where too few
// pixels say more.
const anyAlong = -1

// cell is that of a place of the mat; ok is false off the ruler.
func (p *rulerPrint) cell(mm r2.Vec) (c printCell, ok bool) {
	q := p.own(mm)
	if q.X < p.lo.X || q.X > p.hi.X || q.Y < p.lo.Y-printPast || q.Y > p.hi.Y+printPast {
		return c, false
	}
	k := p.nearest(q.Y)
	r := &p.rows[k]
	c = printCell{int16(k), int16((q.Y - p.lo.Y + printPast) / printAcross), anyAlong}
	if q.X > r.strokes[0].x-printEvery && q.X < r.strokes[len(r.strokes)-1].x+printEvery {
		at := math.Mod(r.number(q.X), printEvery)
		if at < 0 {
			at += printEvery
		}
		c.along = int16(at / printAlong)
	}
	return c, true
}

// calmRuler takes a ruler out of the calm look.
func (m ground) calmRuler(p *rulerPrint, face []bool) {
	l := m.looks
	seen := map[printCell][][3]float32{}
	of := func(i int) [3]float32 {
		if face[i] { // no line of the grid shows there
			return l.ratio[i]
		}
		return l.calm[i]
	}
	cells := map[int]printCell{}
	for i := range l.ratio {
		at, ok := l.at(i)
		if !ok {
			continue
		}
		if c, ok := p.cell(at); ok {
			cells[i] = c
			seen[c] = append(seen[c], of(i))
			if c.along != anyAlong {
				c.along = anyAlong
				seen[c] = append(seen[c], of(i))
			}
		}
	}
	look := map[printCell][3]float32{}
	for c, all := range seen {
		if len(all) >= printLeast {
			look[c] = middleOfLooks(all)
		}
	}
	calm := slices.Clone(l.calm)
	for i, c := range cells {
		own, ok := look[c]
		if !ok {
			c.along = anyAlong
			own = look[c]
		}
		calm[i] = of(i)
		for ch, v := range own {
			calm[i][ch] -= v
		}
	}
	l.calm = calm
}

// middleOfLooks is the median of each channel.
func middleOfLooks(all [][3]float32) (out [3]float32) {
	v := make([]float32, len(all))
	for ch := range out {
		for k, q := range all {
			v[k] = q[ch]
		}
		slices.Sort(v)
		out[ch] = v[len(v)/2]
	}
	return out
}
