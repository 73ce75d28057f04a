package measure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A printed line ends where the object begins, whatever colour that has: against mat of
// the object's own look, in its shadow or beside a rim that mirrors it, where no step of
// light tells, the ends of the lines still do.
const (
	endInside  = 40.0 // pixels looked at across an outline, into the object and out of it
	endNearby  = 10.0 // into it at first
	endOutside = 12.0
	endBeyond  = 30.0 // out of it where the line does not show so near
	endStep    = 0.5
	endSquare  = 0.4  // least sine of the angle between line and edge
	endClear   = 0.02 // least contrast of a line, of the mat's light about it
	endNoise   = 0.3  // most unrest of that contrast, of itself
	endGone    = 6    // places in a row without the line
)

// lineEnd is where a printed line ends at an outline: so far, pixels, outside its point i.
type lineEnd struct {
	i          int
	off, sigma float64
}

// lineEnds are those of the grid's lines that cross an outline.
func (m ground) lineEnds(outline []r2.Vec) (out []lineEnd) {
	if !m.looks.printed {
		return nil
	}
	n := len(outline)
	places := make([]r2.Vec, n)
	for i, p := range outline {
		at, ok := m.cam.OnPlane(p, 0)
		places[i] = r2.Vec{X: at.X, Y: at.Y}
		if !ok {
			return nil
		}
	}
	for i, a := range places {
		b := places[(i+1)%n]
		for axis := range 2 {
			x, y, pitch := a.X, b.X, m.pitch[0]
			if axis == 1 {
				x, y, pitch = a.Y, b.Y, m.pitch[1]
			}
			k := math.Floor(max(x, y) / pitch)
			if math.Floor(min(x, y)/pitch) == k {
				continue
			}
			t := (k*pitch - x) / (y - x)
			if e, ok := m.lineEnd(outline, i, t, axis); ok {
				out = append(out, e)
			}
		}
	}
	return out
}

// lineEnd is where the line of an axis ends that crosses an outline a share t of the way
// from point i to the next.
func (m ground) lineEnd(outline []r2.Vec, i int, t float64, axis int) (lineEnd, bool) {
	at, dir := tangent(outline, i, 5)
	out := outwards(dir)
	next, _ := tangent(outline, (i+1)%len(outline), 5)
	at = r2.Add(at, r2.Scale(t, r2.Sub(next, at)))
	spot, ok := m.cam.OnPlane(at, 0)
	if !ok {
		return lineEnd{}, false
	}
	ahead := r3.Vec{Y: 1}
	if axis == 1 {
		ahead = r3.Vec{X: 1}
	}
	p, ok1 := m.cam.Project(r3.Sub(spot, ahead))
	q, ok2 := m.cam.Project(r3.Add(spot, ahead))
	if !ok1 || !ok2 {
		return lineEnd{}, false
	}
	along := r2.Unit(r2.Sub(q, p))
	if r2.Dot(along, out) < 0 {
		along = r2.Scale(-1, along)
	}
	square := r2.Dot(along, out)
	if square < endSquare {
		return lineEnd{}, false
	}
	// Line and mat beside it are read at equal distances from the edge.
	per := m.perMM()
	wide := (lineHalf*per + lineBlur) / square
	read := func(d, beside float64) (v float64) {
		px := r2.Add(at, r2.Add(r2.Scale(d/square, along), r2.Scale(beside, dir)))
		c := m.photo.at(px.X, px.Y)
		return (c[0] + c[1] + c[2]) / 3
	}
	var seen printedAlong
	for d := -endInside; d <= endBeyond; d += endStep {
		line, mat := 0.0, 0.0
		for _, b := range [3]float64{-0.12, 0, 0.12} {
			line += read(d, b*per/square) / 3
		}
		for _, b := range [4]float64{-wide - 1, -wide, wide, wide + 1} {
			mat += read(d, b) / 4
		}
		seen = append(seen, printedAt{d, line - mat, mat, m.onOther(r2.Add(at, r2.Scale(d/square, along)), axis)})
	}
	e, ok := seen.end()
	e.i = i
	return e, ok
}

// onOther reports whether a line of the other axis lies at a place of the picture.
func (m ground) onOther(px r2.Vec, axis int) bool {
	at, ok := m.cam.OnPlane(px, 0)
	if !ok {
		return true
	}
	x := [2]float64{at.Y, at.X}[axis]
	pitch := m.pitch[1-axis]
	return math.Abs(x-math.Round(x/pitch)*pitch) < lineHalf+lineBlur/m.perMM()
}

// printedAlong is what a printed line adds to the mat's light at places along it, so far
// outside an outline, from within outwards.
type printedAlong []printedAt

type printedAt struct {
	off, adds, mat float64
	crossed        bool // by a line of the other axis
}

// end is where the line ends: near the outline, or where the outline lies far from the
// edge, farther in.
func (p printedAlong) end() (lineEnd, bool) {
	within := p[:int((endInside+endOutside)/endStep)+1]
	near := within[len(within)-int((endNearby+endOutside)/endStep):]
	if e, ok := near.endFrom(math.Inf(1)); ok {
		return e, true
	}
	var clear printedAlong
	for _, q := range p {
		if !q.crossed {
			clear = append(clear, q)
		}
	}
	// No shadow changes what a line adds to the light as a share of the mat's own.
	share := func(q printedAt) float64 { return q.adds / (q.mat + lightFloor) }
	full, rms := clear.level(endOutside/2, endOutside, share)
	if math.Abs(full) > endClear && rms < endNoise*math.Abs(full) {
		if off, ok := clear.gone(full, endOutside, share); ok && off < 0 {
			return clear.endFrom(off)
		}
		return lineEnd{}, false
	}
	full, rms = clear.level(endBeyond-endOutside, endBeyond, share)
	if math.Abs(full) < endClear || rms > endNoise*math.Abs(full) {
		return lineEnd{}, false
	}
	if off, ok := clear.gone(full, math.Inf(1), share); ok && off > 0 {
		return clear.endFrom(off)
	}
	return lineEnd{}, false
}

// endFrom is where half of what the line adds to the light is gone, about some place or,
// without one, by what it adds outside.
func (p printedAlong) endFrom(off float64) (e lineEnd, ok bool) {
	adds := func(q printedAt) float64 { return q.adds }
	if math.IsInf(off, 1) {
		full, rms := p.level(endOutside/2, endOutside, adds)
		if math.Abs(full) < endClear*(p[len(p)-1].mat+lightFloor) || rms > endNoise*math.Abs(full) {
			return e, false
		}
		if off, ok = p.gone(full, off, adds); !ok {
			return e, false
		}
	}
	full, rms := 0.0, 0.0
	for range 2 {
		full, rms = p.level(off+1.5, off+5, adds)
		if math.IsInf(rms, 1) || full == 0 {
			return e, false
		}
		if off, ok = p.gone(full, off+3, adds); !ok {
			return e, false
		}
	}
	inside, left := p.level(off-5, off-1.5, adds)
	if math.IsInf(left, 1) { // a line of the other axis takes most of it
		inside, left = p.level(off-9, off-1.5, adds)
	}
	if math.IsInf(left, 1) || math.Abs(inside) > endNoise*math.Abs(full) {
		return e, false
	}
	noise := max(math.Hypot(rms, left), 0.001)
	return lineEnd{off: off, sigma: math.Hypot(0.15, 3*noise/math.Abs(full))}, true
}

// gone is the first place from without, from most inwards, where half of full is gone for
// good.
func (p printedAlong) gone(full, most float64, of func(printedAt) float64) (float64, bool) {
	for k := len(p) - 2; k >= endGone-1; k-- {
		b, a := of(p[k+1])/full, of(p[k])/full
		if p[k+1].off > most || a >= 0.5 || b < 0.5 {
			continue
		}
		all := true
		for _, q := range p[k-endGone+1 : k] {
			all = all && of(q)/full < 0.5
		}
		if all {
			return p[k].off + (p[k+1].off-p[k].off)*(0.5-a)/(b-a), true
		}
	}
	return 0, false
}

// level is the median of what is seen over some distances, and its scatter.
func (p printedAlong) level(lo, hi float64, of func(printedAt) float64) (mid, rms float64) {
	var all []float64
	for _, q := range p {
		if q.off >= lo && q.off <= hi {
			all = append(all, of(q))
		}
	}
	if len(all) < endGone {
		return 0, math.Inf(1)
	}
	mid = median(all)
	for _, x := range all {
		rms += (x - mid) * (x - mid)
	}
	return mid, math.Sqrt(rms / float64(len(all)))
}
