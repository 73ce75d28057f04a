package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// strip is a stretch of the mat, mm, along a row of ticks and across it; as far as
// its ticks reach, or its face.
type strip struct {
	at, along, across r2.Vec
	lo, hi            r2.Vec // X along, Y across
}

func (s strip) place(t, o float64) r2.Vec {
	return r2.Add(s.at, r2.Add(r2.Scale(t, s.along), r2.Scale(o, s.across)))
}

// How a ruler's face is followed from its ticks: as long as enough of it has the
// colour that it has beside the ticks.
const (
	faceStep   = 0.5   // mm across
	faceEvery  = 2.0   // mm along
	faceOut    = 50.0  // mm past the ticks, that a face which leaves the picture may reach
	faceBeside = 1.2   // mm to either side of the middle of a row
	faceEnds   = 300.0 // mm past the ticks: where they are too fine to read
	widestFace = 50.0  // mm
	faceGap    = 1.5   // mm that may fail: figures, an engraved line
	leastLike  = 0.35  // an object may lie over the rest
	mostMat    = 0.25  // that is bare mat: beside the ruler, where an object of its colour lies
	faceRim    = 0.6   // mm: an edge is blurred
)

// faceOf is the face of the ruler with these ticks, by its colour: what lies beside
// each tick is compared across and, past the last ones, along. An object that lies
// on part of it leaves enough of it in sight. ok is false where it is not to be told from what
// lies beside it: then that is taken in which it may cover.
func (m ground) faceOf(s strip) (f strip, ok bool) {
	nt := int((s.hi.X-s.lo.X+2*faceEnds)/faceEvery) + 1
	no := int((s.hi.Y-s.lo.Y+2*widestFace)/faceStep) + 1
	t := func(i int) float64 { return s.lo.X - faceEnds + faceEvery*float64(i) }
	o := func(j int) float64 { return s.lo.Y - widestFace + faceStep*float64(j) }
	light := make([][]colour, nt) // nil outside the picture
	for i := range light {
		light[i] = m.across(s, t(i), o, no)
	}
	own, common := m.besideTicks(s, light, t, o)
	inTicks := func(i int) bool { return t(i) >= s.lo.X && t(i) <= s.hi.X }
	across := func(j int) bool {
		like, mat, n := 0, 0, 0
		for i := range nt {
			if !inTicks(i) || light[i] == nil {
				continue
			}
			n++
			switch {
			case alike(light[i][j], own[i]):
				like++
			case m.isBare(s.place(t(i), o(j)), light[i][j], own[i]):
				mat++
			}
		}
		return n > 0 && float64(like) >= leastLike*float64(n) && float64(mat) < mostMat*float64(n)
	}
	f = s
	first, last := int(widestFace/faceStep), no-1-int(widestFace/faceStep)
	const gap = int(faceGap / faceStep)
	lo, okLo := carryOn(first, -1, gap, no, across)
	hi, okHi := carryOn(last, 1, gap, no, across)
	f.lo.Y, f.hi.Y = o(lo)-faceRim, o(hi)+faceRim
	two := s.hi.Y-s.lo.Y >= leastRuler
	if two {
		f.lo.Y, f.hi.Y = edgesBeside(s, f.lo.Y, f.hi.Y)
	}
	if wide := f.hi.Y - f.lo.Y; !two && (!okLo || !okHi) || wide > widestFace || wide < leastRuler {
		side := rulerEdge
		if !two {
			side = rulerWide
		}
		f.lo = r2.Vec{X: s.lo.X - rulerEnd, Y: s.lo.Y - side}
		f.hi = r2.Vec{X: s.hi.X + rulerEnd, Y: s.hi.Y + side}
		return f, false
	}
	lo, hi = max(0, int((f.lo.Y+faceRim-o(0))/faceStep)), min(no-1, int((f.hi.Y-faceRim-o(0))/faceStep))
	along := func(i int) bool {
		if light[i] == nil {
			return false
		}
		like := 0
		for j := lo; j <= hi; j++ {
			if alike(light[i][j], own[i]) || alike(light[i][j], common) {
				like++
			}
		}
		return float64(like) >= leastLike*float64(hi-lo+1)
	}
	end := func(from, way int, tick float64) float64 {
		const few = 2
		k, ok := carryOn(from, way, few, nt, along)
		next := k + way
		out := next < 0 || next >= nt || light[next] == nil
		if !ok || out && math.Abs(t(k)-tick) > faceOut {
			return tick + float64(way)*rulerEnd
		}
		return t(next)
	}
	const ends = int(faceEnds / faceEvery)
	f.lo.X, f.hi.X = end(ends, -1, s.lo.X), end(nt-1-ends, 1, s.hi.X)
	return f, true
}

// edgesBeside holds a face to the two rows of its ticks. They lie close to its edges, and
// equally close: where its colour runs on past one of them it is another thing's.
func edgesBeside(s strip, lo, hi float64) (edgeLo, edgeHi float64) {
	low, high := s.lo.Y-lo, hi-s.hi.Y
	switch {
	case low > rulerEdge && high > rulerEdge:
		low, high = rulerEdge, rulerEdge
	case low > rulerEdge:
		low = high
	case high > rulerEdge:
		high = low
	}
	return s.lo.Y - low, s.hi.Y + high
}

// isBare reports whether the light seen at a place of the mat must be the bare mat's: it
// may be, and nothing that looks like the ruler may.
func (m ground) isBare(mm r2.Vec, light, ruler colour) bool {
	px, ok := m.cam.Project(r3.Vec{X: mm.X, Y: mm.Y})
	if !ok {
		return false
	}
	bare := m.bare.bare(px.X, px.Y)
	for k := range ruler {
		ruler[k] /= ownShade
	}
	return alike(light, bare) && !alike(ruler, bare)
}

// carryOn goes on from a place as long as it is so, over gaps of a few; ok is false
// where it came to the end.
func carryOn(from, way, gap, n int, so func(int) bool) (last int, ok bool) {
	last = from
	for k := from; k >= 0 && k < n; k += way {
		switch {
		case so(k):
			last = k
		case max(k-last, last-k) > gap:
			return last, true
		}
	}
	return last, false
}

// across is the light across a strip at one place along it; nil where the picture
// does not show the ticks there.
func (m ground) across(s strip, t float64, o func(int) float64, n int) []colour {
	out := make([]colour, n)
	for j := range out {
		q := s.place(t, o(j))
		px, ok := m.cam.Project(r3.Vec{X: q.X, Y: q.Y})
		inside := ok && px.X >= 0 && px.Y >= 0 && px.X <= float64(m.photo.w-1) && px.Y <= float64(m.photo.h-1)
		if inside {
			out[j] = m.photo.at(px.X, px.Y)
		} else if o(j) >= s.lo.Y && o(j) <= s.hi.Y {
			return nil
		}
	}
	return out
}

// besideTicks is the ruler's own colour at each place along it: the middle one of
// what lies beside the rows of ticks, and past them that of the last tick, which may lie in
// a shadow; and what is common to all of it.
func (m ground) besideTicks(s strip, light [][]colour, t, o func(int) float64) (own []colour, common colour) {
	own = make([]colour, len(light))
	known := make([]bool, len(light))
	for i, l := range light {
		if l == nil || t(i) < s.lo.X || t(i) > s.hi.X {
			continue
		}
		var all [3][]float64
		for j, c := range l {
			if math.Abs(o(j)-s.lo.Y) < faceBeside || math.Abs(o(j)-s.hi.Y) < faceBeside {
				for k := range all {
					all[k] = append(all[k], c[k])
				}
			}
		}
		for k := range all {
			slices.Sort(all[k])
			own[i][k] = all[k][len(all[k])*3/4] // strokes are the darker ones
		}
		known[i] = true
	}
	// Where the object lies on the ticks their colour is not the ruler's.
	var all [3][]float64
	for i := range own {
		if known[i] {
			for k := range all {
				all[k] = append(all[k], own[i][k])
			}
		}
	}
	for k := range all {
		if len(all[k]) == 0 {
			return own, common
		}
		slices.Sort(all[k])
		common[k] = all[k][len(all[k])/2]
	}
	last := common
	for i := range own {
		if known[i] && alike(own[i], common) {
			last = own[i]
		}
		own[i] = last
	}
	return own, common
}

// Light falls on a ruler unevenly, but its colour is one.
const (
	sameLight = 1.5
	sameTint  = 1.25
	ownShade  = 1.2 // of a ruler's light: where it is a little less, it is still the ruler
)

// alike reports whether two colours may be one thing's, a little more or less lit.
func alike(a, b colour) bool {
	lo, hi := math.Inf(1), 0.0
	for k := range a {
		r := (a[k] + 0.002) / (b[k] + 0.002)
		lo, hi = min(lo, r), max(hi, r)
	}
	return lo > 1/sameLight && hi < sameLight && hi < sameTint*lo
}
