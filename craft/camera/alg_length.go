package camera

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Length is one known length in a photograph: all that sets its scale where no mat
// lies in it.
type Length struct {
	From, To r2.Vec  // pixels of the upright image
	PxDoubt  float64 // standard uncertainty of each coordinate, pixels; 0: a pixel

	MM, U float64 // the true distance and its standard uncertainty, mm

	// Height is how high over the table both places lie, and HeightDoubt its standard
	// uncertainty, mm.
	Height, HeightDoubt float64
}

// What is known of a camera held over a table by hand, with nothing to show how.
const (
	// leanOverDoubt is how far it leans to either side, radians: most who mean to look
	// straight down keep within 3°. Common practice; a guess until logged.
	leanOverDoubt = 3 * math.Pi / 180
	// corrected: cameras put right their lens's bend to 2 % at the corner, which is 0.03 of
	// K1 for a phone's. Common practice; a guess until logged.
	corrected = 0.03
	// placeDoubt: a place that is no crossing of lines is picked to a pixel.
	placeDoubt = 1.0
)

// ErrNoLength is for two places that are one, or a length that is none.
var ErrNoLength = errors.New("camera: the two places of the known length coincide, or it is no length")

// FromLength is the camera that looks straight down on a table and sees a known
// length, as far as that is known: the origin lies below it, on the table, X to the
// right in the picture and Y up. Its modes are the causes of doubt themselves, each
// displaced alone with the length kept: focal length, centre, bend, lean either way,
// the two places' distance, the length and its height.
//
// Seen from straight above at height H, places at height h lie (H - h)·n from the
// foot, n the ideal image of unit depth, so H = h + L/|n₁ - n₂|; leaned, n is the
// point where the ray meets a level plane of unit depth.
func FromLength(l Length, known Known) (Fitted, error) {
	if !near(l.From.X) || !near(l.From.Y) || !near(l.To.X) || !near(l.To.Y) || !near(l.MM) || !near(l.Height) {
		return Fitted{}, ErrNotFinite
	}
	apart := r2.Norm(r2.Sub(l.To, l.From))
	if apart < 2 || !(l.MM > 0) {
		return Fitted{}, ErrNoLength
	}
	p := newPrior(known)
	base := Camera{F: math.Exp(p.logF), Cx: p.cx, Cy: p.cy, R: [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}}
	h0, ok := heightOver(base, l, l.MM, l.Height)
	if !ok {
		return Fitted{}, ErrNoSolution
	}
	out := Fitted{FocalKnown: p.focalKnown, Scale: [2]float64{1, 1}, Together: 1}
	out.Camera = base
	out.C.Z = h0
	px := l.PxDoubt
	if !(px > 0) {
		px = placeDoubt
	}
	out.Sigma = px
	bend := corrected
	if known.BendDoubt > 0 {
		bend = known.BendDoubt
	}
	var f, cx, cy, k1, leanX, leanY [Params]float64
	f[0], cx[1], cy[2], k1[3], leanX[5], leanY[6] = base.F*p.logFDoubt, p.centreDoubt, p.centreDoubt, bend, leanOverDoubt, leanOverDoubt
	for _, m := range []struct {
		by         [Params]float64
		mm, height float64
	}{
		{by: f},
		{by: cx},
		{by: cy},
		{by: k1},
		{by: leanX},
		{by: leanY},
		{mm: math.Hypot(l.U, l.MM*math.Sqrt2*px/apart)},
		{height: l.HeightDoubt},
	} {
		h, ok := heightOver(base.Nudge(m.by), l, l.MM+m.mm, l.Height+m.height)
		if !ok {
			return Fitted{}, ErrNoSolution
		}
		m.by[Params-1] = h - h0
		out.modes = append(out.modes, m.by)
		for i := range Params {
			for j := range Params {
				out.Cov[i][j] += m.by[i] * m.by[j]
			}
		}
	}
	return out, nil
}

// heightOver is how high a camera must stand to see two places so far apart.
func heightOver(c Camera, l Length, mm, height float64) (float64, bool) {
	a, b := c.Ray(l.From), c.Ray(l.To)
	if !(a.Z < 0) || !(b.Z < 0) {
		return 0, false
	}
	d := r3.Norm(r3.Sub(r3.Scale(1/a.Z, a), r3.Scale(1/b.Z, b)))
	if !(d > 0) || !(mm > 0) {
		return 0, false
	}
	return height + mm/d, true
}
