package measure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Rest is a place where something that stands out of the body touches the mat:
// a fin's tip, a flange, a stand.
type Rest struct {
	StationMM float64 // station of the touching place, mm
	ReachMM   float64 // how far below the axis it lies when the body lies as photographed, mm
	U         float64 // standard uncertainty of the reach, mm
}

// slopeFrom says what the slope of the axis rests on.
type slopeFrom uint8

const (
	slopeGuessed slopeFrom = iota // nothing told it: level, give or take
	slopeRests                    // two touching places
	slopeRim                      // the ellipses of rims and rings
)

// solution is a body found in one view.
type solution struct {
	pose              pose
	axis              axis // origin at the pose's first image point
	from              slopeFrom
	uSlope            float64 // rad
	uHeight           float64 // mm, of the axis over the touching place
	incline           float64 // slope of the axis as rests and rings have it, rad
	touch             float64 // station about which a change of slope turns the axis
	lo, hi            end
	prof              []station // stations from the axis' origin
	skip              []bool
	form              form
	scale             float64    // of the fit's residuals
	uForm             []float64  // of the form's radius at those stations, mm
	told              []bool     // stations of the form that the edge tells, stationStep apart
	rests             []touching // where the body touches the mat
	pull              pull       // what is known of its slope besides
	hull              []joint    // the two places that a line from below touches
	differ            bool       // the rims' slope and the touching places' do not agree
	contests          []contest  // stretches about which the sides do not agree
	settled           int        // rounds of settling them
	oneSided          []bool     // edge points of the side that is not believed there
	believed          []bool     // and of the other side
	fins              []bump     // where two of three fins stand out, the third up
	denied            []reachOf  // stretches that do not touch the mat by their radius
	further           float64    // mm, outside one side another edge shows
	rimTilt, hullTilt float64    // slopes by rings and by rests
}

// wingLeast is how many edge points what stands out of a body has at least, that might
// hold it up: 6 mm of edge. The rim of an end can give a dozen.
const wingLeast = 30

func count(set []bool) (n int) {
	for _, on := range set {
		if on {
			n++
		}
	}
	return n
}

// settings of one solve.
type settings struct {
	photo  *picture // for rings between the sides; nil: not looked at
	rests  []Rest   // stations from the datum end
	hidden []hidden // declared, stations from the datum end
	flip   bool     // the datum end is the high end of the axis' own stations
	marked []marked // features on the body, pixels
}

type hidden struct{ from, to float64 }

// solveRounds is how often sides, ends and rest are found in turn before all is fitted
// together.
const solveRounds = 5

// finsRound is the round in which fins are looked for: the axis lies well enough by then.
const finsRound = 2

// solve finds the axis and the outline: sides by symmetry, height and slope by how the
// body rests and by the rims of its ends, in turns; then all together from the edge.
func (v view) solve(start pose, set settings) (solution, bool) {
	out := solution{pose: start, uSlope: anyTurn}
	for k := range solveRounds {
		q, ok := v.symmetric(out.pose, k > 1)
		if !ok {
			return out, false
		}
		a, ok := q.axis(v.cam)
		if !ok {
			return out, false
		}
		out.pose, out.axis = q, a
		out.skip = v.wings(a)
		v.finned(a, out.fins, out.skip)
		if !v.ends(&out) {
			return out, false
		}
		out.prof = v.profile(a, out.skip, out.lo.s, out.hi.s)
		if len(out.prof) < 10 {
			return out, false
		}
		if k == finsRound {
			out.fins = v.findFins(&out, set.photo)
		}
		if !v.rest(&out, set) {
			return out, false
		}
		b, _ := v.cam.OnPlane(q.b, q.hb)
		far := r3.Norm(r3.Sub(b, a.p))
		out.pose.ha = out.height()
		out.pose.hb = out.pose.ha + far*math.Sin(out.incline)
	}
	return out, v.finish(&out, set, v.firstForm(&out))
}

// kept is the edge without the points to skip.
func (v view) kept(skip []bool) []edgePoint {
	edge := slices.Clone(v.edge)
	for i := range edge {
		edge[i].good = edge[i].good && !skip[i]
	}
	return edge
}

// datum turns a station of the axis into one from the datum end, own back.
func (o *solution) datum(s float64, flip bool) float64 {
	if flip {
		return o.hi.s - s
	}
	return s - o.lo.s
}

func (o *solution) own(s float64, flip bool) float64 {
	if flip {
		return o.hi.s - s
	}
	return s + o.lo.s
}
