package camera

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// huberK is the bend of Huber's loss in standard deviations; 1.345 keeps 95 %
// efficiency on clean marks (Huber, Robust Statistics, 1981; constant
// tabulated by Holland & Welsch, Comm. Statist. A6 (1977) 813-827).
const huberK = 1.345

// Fit finds the camera that sees the marks, with all errors found in the marks
// typed (see the Err variables). Marks are not changed.
//
// The noise of the marks is estimated with the fit: its prior counts as one
// observation of [Known.Sigma], so that few marks are not trusted beyond reason
// and many exact ones are.
func Fit(marks []Mark, known Known) (Fitted, error) {
	all, err := FitAll([][]Mark{marks}, known)
	if err != nil {
		return Fitted{}, err
	}
	return all[0], nil
}

// FitAll finds the cameras of several photographs taken with one camera, whose
// focal length, centre and distortion they share, the first two as nearly as
// [Known.Refocus] says: what a tilted view tells of the lens helps a square one. All see the same mat unless [Known.MatsDiffer];
// [Known.Ticks] are of the first photograph. Each camera's covariance holds what
// all photographs together leave open.
func FitAll(views [][]Mark, known Known) ([]Fitted, error) {
	f, err := newFitter(views, known)
	if err != nil {
		return nil, err
	}
	f.run()
	if f.uneven() {
		f.run()
	}
	return f.results()
}

// newFitter is a fit about to begin.
func newFitter(views [][]Mark, known Known) (*fitter, error) {
	if len(views) == 0 {
		return nil, ErrTooFew
	}
	f := &fitter{
		layout: layout{views: len(views), moves: known.Refocus > 0 && known.Steady > 0},
		views:  views, ticks: known.Ticks, prior: newPrior(known),
		least: known.Sigma, bend: huberK,
	}
	if !(f.least > 0) {
		f.least = handSigma
	}
	f.tick = [2]float64{f.least, f.least}
	for _, marks := range views {
		if err := checkMarks(marks); err != nil {
			return nil, err
		}
		cam, err := startCamera(marks, f.prior)
		if err != nil {
			return nil, err
		}
		f.at.cams = append(f.at.cams, cam)
		f.sigma = append(f.sigma, f.least)
	}
	f.shareLens()
	return f, f.layScales(known)
}

// run fits until the noise has settled, which takes two or three rounds; only what is
// found at last must be exact.
func (f *fitter) run() {
	const nearly, exactly = 1e-5, 1e-12
	for range 4 {
		f.descend(nearly)
		f.settle()
	}
	f.descend(exactly)
}

// layScales begins the mat's scale, and the ruler where there is one.
func (f *fitter) layScales(known Known) error {
	f.scales = 1
	if known.MatsDiffer {
		f.scales = f.layout.views
	}
	if known.PrintTrue && len(known.Ticks) == 0 {
		f.scales = 0
	}
	scale := 1.0
	if len(known.Ticks) > 0 {
		r, s, err := startRuler(known.Ticks, &f.at.cams[0])
		if err != nil {
			return err
		}
		f.at.ruler, scale = r, s
		f.edge, f.edges = edgesOf(known.Ticks)
	}
	for i := range max(f.scales, 1) {
		if i > 0 {
			scale = 1 // the ruler lies in the first photograph
		}
		f.at.scale = append(f.at.scale, [2]float64{scale, scale})
	}
	for v := range f.at.cams {
		c := &f.at.cams[v]
		c.C = r3.Scale(f.at.scaleOf(v)[0], c.C)
	}
	return nil
}

// unevenAt is how far, in doubts of its difference, the print's two directions
// may part before the mat cannot be believed to [MatDoubt].
const unevenAt = 3.0

// uneven tells of a print whose two directions differ more than a true one's do
// and widens its prior by as much: the camera's pixels are square, so the
// difference is seen, but without a ruler nobody knows which direction is right.
func (f *fitter) uneven() bool {
	if f.prior.heavy || f.scales == 0 {
		return false
	}
	worst := 0.0
	for _, s := range f.at.scale {
		worst = max(worst, math.Abs(s[0]-s[1]))
	}
	if worst < unevenAt*math.Sqrt2*f.prior.scaleDoubt {
		return false
	}
	f.prior.scaleDoubt = worst
	return true
}

func checkMarks(marks []Mark) error {
	if len(marks) < 4 {
		return ErrTooFew
	}
	for _, m := range marks {
		if !near(m.Px.X) || !near(m.Px.Y) || !near(m.Mm.X) || !near(m.Mm.Y) {
			return ErrNotFinite
		}
	}
	px, mm := func(m Mark) r2.Vec { return m.Px }, func(m Mark) r2.Vec { return m.Mm }
	if coincide(marks, px, 1) || coincide(marks, mm, 1e-3) {
		return ErrCoincident
	}
	if spread(marks, mm) < minSpread || spread(marks, px) < minSpread {
		return ErrOnALine
	}
	return nil
}

// coincide tells whether two marks lie nearer than the least distance, looking from each
// back over those whose X is near.
func coincide(marks []Mark, at func(Mark) r2.Vec, least float64) bool {
	p := make([]r2.Vec, len(marks))
	for i, m := range marks {
		p[i] = at(m)
	}
	slices.SortFunc(p, func(a, b r2.Vec) int { return cmp.Compare(a.X, b.X) })
	for i := range p {
		for j := i - 1; j >= 0 && p[i].X-p[j].X < least; j-- {
			if r2.Norm(r2.Sub(p[i], p[j])) < least {
				return true
			}
		}
	}
	return false
}

// near reports whether a figure is a place of any picture or mat, pixels or mm.
// Beyond a million squares lose what the fit is about, and overflow in the end.
func near(x float64) bool { return math.Abs(x) <= 1e6 }

func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// minSpread is the least ratio of the short to the long axis of the marks'
// scatter. At 0.02 a row of 400 mm is 8 mm wide: clicks of half a pixel then
// turn the mat by degrees and the answer is worth nothing.
const minSpread = 0.02

func spread(marks []Mark, at func(Mark) r2.Vec) float64 {
	var mean r2.Vec
	for _, m := range marks {
		mean = r2.Add(mean, at(m))
	}
	mean = r2.Scale(1/float64(len(marks)), mean)
	var xx, xy, yy float64
	for _, m := range marks {
		d := r2.Sub(at(m), mean)
		xx, xy, yy = xx+d.X*d.X, xy+d.X*d.Y, yy+d.Y*d.Y
	}
	half, root := (xx+yy)/2, math.Hypot((xx-yy)/2, xy)
	return math.Sqrt(max(0, half-root) / (half + root))
}
