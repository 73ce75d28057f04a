package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A printed line ends where the object begins, whatever colour that has: against mat of
// the object's own look, in its shadow or beside a rim that mirrors it, where no step of
// light tells, the ends of the lines still do.
const (
	endInside  = 10.0 // pixels looked at along a line, into the object and out of it
	endOutside = 12.0
	endStep    = 0.5
	endSquare  = 0.4  // least sine of the angle between line and edge
	endClear   = 0.02 // least contrast of a line, of the mat's light about it
	endNoise   = 0.3  // most unrest of that contrast, of itself
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
	var v, ground []float64
	for d := -endInside; d <= endOutside; d += endStep {
		line := 0.0
		for _, b := range [3]float64{-0.12, 0, 0.12} {
			line += read(d, b*per/square) / 3
		}
		mat := 0.0
		for _, b := range [4]float64{-wide - 1, -wide, wide, wide + 1} {
			mat += read(d, b) / 4
		}
		v, ground = append(v, line-mat), append(ground, mat)
	}
	return endOf(v, ground, i)
}

// endOf finds the step of a line's contrast.
func endOf(v, ground []float64, i int) (lineEnd, bool) {
	n := len(v)
	level := func(lo, hi float64) (mean, rms float64) {
		var all []float64
		for k := range v {
			if d := endStep*float64(k) - endInside; d >= lo && d <= hi {
				all = append(all, v[k])
			}
		}
		if len(all) < 6 {
			return 0, math.Inf(1)
		}
		s := slices.Clone(all)
		slices.Sort(s)
		mid := s[len(s)/2]
		for _, x := range all {
			rms += (x - mid) * (x - mid)
		}
		return mid, math.Sqrt(rms / float64(len(all)))
	}
	full, rms := level(endOutside/2, endOutside)
	if math.Abs(full) < endClear*(ground[n-1]+lightFloor) || rms > endNoise*math.Abs(full) {
		return lineEnd{}, false
	}
	off := math.NaN()
	for range 3 {
		// From outside in, the first place where half of it is gone for good.
		off = math.NaN()
		for k := n - 2; k >= 2; k-- {
			a, b := v[k]/full, v[k+1]/full
			if a < 0.5 && b >= 0.5 && v[k-1]/full < 0.5 && v[k-2]/full < 0.5 {
				off = endStep*(float64(k)+(0.5-a)/(b-a)) - endInside
				break
			}
		}
		if math.IsNaN(off) {
			return lineEnd{}, false
		}
		near, r := level(off+1.5, off+5)
		if math.IsInf(r, 1) {
			break
		}
		if near/full < 0.2 {
			return lineEnd{}, false
		}
		full, rms = near, r
	}
	inside, left := level(off-5, off-1.5)
	if math.Abs(inside) > 0.3*math.Abs(full) {
		return lineEnd{}, false
	}
	noise := max(math.Hypot(rms, left), 0.001)
	return lineEnd{i: i, off: off, sigma: math.Hypot(0.15, 3*noise/math.Abs(full))}, true
}

// guide says, for each point of an outline, how far outside it the edge lies by the ends
// of the lines about it.
type guide []guided

type guided struct {
	off  float64
	told bool
}

func (g guide) at(i int) guided {
	if g == nil {
		return guided{}
	}
	return g[i]
}

// cost is what a place so far outside the outline costs.
func (g guided) cost(t float64) float64 {
	if !g.told {
		return pathStay * math.Abs(t)
	}
	return pathGuide * (t - g.off) * (t - g.off)
}

// How the ends of lines guide an edge between them.
const (
	pathGuide   = 0.1  // for each square pixel off
	guideMost   = 15.0 // mm from one to the next
	guideBeyond = 4.0  // mm beyond the last
	guidedReach = 10.0 // pixels
	endsAgree   = 1.2  // pixels
	endStray    = 2.5
)

// between is the guide that ends of lines give along an outline of n points.
func (m ground) between(ends []lineEnd, n int) guide {
	g := make(guide, n)
	for k, a := range ends {
		b := ends[(k+1)%len(ends)]
		gap := (b.i - a.i + n) % n
		if len(ends) == 1 || gap == 0 {
			gap = n
		}
		if float64(gap) <= guideMost*m.perMM() {
			for d := range gap + 1 {
				t := float64(d) / float64(gap)
				g[(a.i+d)%n] = guided{a.off + t*(b.off-a.off), true}
			}
			continue
		}
		beyond := int(guideBeyond * m.perMM())
		for d := range min(beyond, gap/2) + 1 {
			g[(a.i+d)%n] = guided{a.off, true}
			g[(b.i-d+n)%n] = guided{b.off, true}
		}
	}
	return g
}

// agreed leaves out what both neighbours contradict, and of two in one place the less
// sure.
func agreed(ends []lineEnd) (out []lineEnd) {
	for k, e := range ends {
		a, b := ends[(k+len(ends)-1)%len(ends)], ends[(k+1)%len(ends)]
		if math.Abs(a.off-b.off) < endsAgree && math.Abs(e.off-a.off) > endStray && math.Abs(e.off-b.off) > endStray {
			continue
		}
		if len(out) > 0 && out[len(out)-1].i == e.i {
			if e.sigma < out[len(out)-1].sigma {
				out[len(out)-1] = e
			}
			continue
		}
		out = append(out, e)
	}
	return out
}
