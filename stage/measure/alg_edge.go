package measure

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"scalewright/craft/cores"
)

// edgePoint is one place of the silhouette's edge.
type edgePoint struct {
	at    r2.Vec  // pixels, between the two side colours
	out   r2.Vec  // unit normal pointing away from the object
	sigma float64 // standard deviation along the normal, pixels
	open  float64 // what readings of the same step leave open, pixels outwards
	good  bool    // a step was found here, where its neighbours have it
	stray bool    // one was found that stands off them
	// groove: it stands in on both sides alike, and counts after all
	groove bool
}

// Reach of the search for the edge's path, in reduced pixels, and of the measuring of a
// step and of the fit round it, in pixels.
const (
	pathReach = 3.0
	stepReach = 4.0
	fitReach  = 3.5
	edgeStep  = 0.5
)

// refineEdge moves the points of an outline to where the light passes half way
// between the inside and the outside colour, in linear light, along the normal.
//
// The model of a step is a blurred edge between a level outside and a ramp
// inside, s(t) = b + (a + c·(t-t0))·Φ(-(t-t0)/w), with Φ the normal distribution
// and w the picture's own blur, found over all points. The ramp stands for the
// limb of a rounded surface: without it the edge lies a tenth of a pixel or more
// inside.
func (m ground) refineEdge(ctx context.Context, outline []r2.Vec) ([]edgePoint, error) {
	if area(outline) < 0 { // walk with the inside on one known hand
		outline = slices.Clone(outline)
		slices.Reverse(outline)
	}
	fine, pts, err := m.stepsAlong(ctx, outline, nil, pathReach*float64(m.reduced.n))
	if err != nil || pts == nil {
		return nil, err
	}
	return m.held(ctx, fine, pts)
}

// stepsAlong are the steps of light along an outline, where the colour changes most, and
// the path that they were looked for on; none where that is too short to be one.
func (m ground) stepsAlong(ctx context.Context, outline []r2.Vec, by guide, reach float64) ([]edgePoint, []r2.Vec, error) {
	pts, err := m.path(ctx, outline, by, reach)
	if err != nil {
		return nil, nil, err
	}
	if pts = resample(smooth(pts), 1); pts == nil {
		return nil, nil, nil
	}
	fine, err := m.findSteps(ctx, pts, 5, stepReach, m.commonBlur(pts))
	if err != nil {
		return nil, nil, err
	}
	rejectStrays(fine, 7)
	return fine, pts, nil
}

// smooth is the mean of each point with its two neighbours on either side, which takes
// the steps of the search out of a path.
func smooth(pts []r2.Vec) []r2.Vec {
	n := len(pts)
	out := make([]r2.Vec, n)
	for i := range pts {
		for d := -2; d <= 2; d++ {
			out[i] = r2.Add(out[i], r2.Scale(0.2, pts[(i+d+n)%n]))
		}
	}
	return out
}

// outwards is the normal that points away from the object for an outline walked
// with area above nought (y down): the direction turned by a quarter.
func outwards(dir r2.Vec) r2.Vec { return r2.Vec{X: dir.Y, Y: -dir.X} }

// cornerSigma is the further doubt, pixels, of a step for each radian past cornerLeast that
// the edge turns inwards within so many pixels of it: the model of a step is a straight one,
// and a corner fills with blur.
const (
	cornerSigma = 0.2
	cornerLeast = 20 * deg
	cornerReach = 3
)

// hollowAt is by how much an outline turns inwards at a point, radians, over so many points
// to either side.
func hollowAt(pts []r2.Vec, i, half int) float64 {
	n := len(pts)
	a, b := r2.Sub(pts[i], pts[(i+n-half)%n]), r2.Sub(pts[(i+half)%n], pts[i])
	return max(0, -math.Atan2(r2.Cross(a, b), r2.Dot(a, b)))
}

func (m ground) findSteps(ctx context.Context, pts []r2.Vec, half int, reach, blur float64) ([]edgePoint, error) {
	out := make([]edgePoint, len(pts))
	err := cores.Rows(ctx, len(pts), func(i int) {
		at, dir := tangent(pts, i, half)
		e := edgePoint{at: at, out: outwards(dir)}
		s := m.readStep(at, e.out, reach)
		if t, sigma, left, ok := s.fit(blur); ok {
			// The light's half-way place is a second reading of the same step, and the
			// better one the less the step looks like its model.
			halfway, _ := s.crossing()
			e.open = (t - halfway) / 2
			t -= e.open * left * left / (left*left + stepRough*stepRough)
			e.at, e.good = r2.Add(at, r2.Scale(t, e.out)), true
			e.sigma = math.Hypot(sigma, cornerSigma*max(0, hollowAt(pts, i, cornerReach)-cornerLeast))
		}
		out[i] = e
	})
	return out, err
}
