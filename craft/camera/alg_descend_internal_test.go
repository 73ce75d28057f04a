package camera

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Law: at what a fit comes to rest no step is left to take. A view nearly square to the mat
// can hardly tell focal length from height; what the few per cent of EXIF say of it and what
// a ruler says of the print must be weighed to the end.
func TestDescendsToTheEnd(t *testing.T) {
	for _, tilt := range []float64{0.2, 0.8, 3} {
		f := squareView(t, tilt*math.Pi/180)
		f.run()
		w := f.weigh()
		jtj, jtr, _ := f.normal(w)
		step, ok := solveDamped(jtj, jtr, 0)
		if !ok {
			t.Fatalf("tilted by %v°: the normal equations can't be solved", tilt)
		}
		all, ok := doubtsOf(jtj)
		if !ok {
			t.Fatalf("tilted by %v°: no covariance", tilt)
		}
		const least = 1e-3 // standard uncertainties
		for i, s := range step {
			if u := all.of(i); math.Abs(s) > least*u {
				t.Errorf("tilted by %v°: unknown %d stopped %.2g before its place, ± %.2g", tilt, i, s, u)
			}
		}
	}
}

// squareView is the fit of 1200 crossings and a ruler seen 1250 mm from above, a little tilted.
func squareView(t *testing.T, tilt float64) *fitter {
	t.Helper()
	c := Camera{F: 8100, Cx: 1490, Cy: 1132, K1: 0.012, R: [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}}
	c.turn(r3.Vec{X: tilt, Y: -0.6 * tilt, Z: 0.3})
	z := r3.Vec{X: c.R[2][0], Y: c.R[2][1], Z: c.R[2][2]}
	c.C = r3.Sub(r3.Vec{X: 200, Y: 140}, r3.Scale(-1250/z.Z, z))
	rng := rand.New(rand.NewPCG(1, 2))
	see := func(p r3.Vec) r2.Vec {
		px, ok := c.Project(p)
		if !ok {
			t.Fatal("behind the camera")
		}
		return r2.Vec{X: px.X + 0.04*rng.NormFloat64(), Y: px.Y + 0.04*rng.NormFloat64()}
	}
	var marks []Mark
	for i := range 40 {
		for j := range 30 {
			at := r2.Vec{X: 10 * float64(i), Y: 10 * float64(j)}
			marks = append(marks, Mark{Px: see(r3.Vec{X: at.X, Y: at.Y}), Mm: at})
		}
	}
	var ticks []Tick
	for i := range 250 {
		for edge, y := range []float64{20, 50} {
			ticks = append(ticks, Tick{Px: see(r3.Vec{X: 60 + float64(i), Y: y, Z: 1.2}), At: float64(i), Edge: edge})
		}
	}
	f, err := newFitter([][]Mark{marks}, Known{Width: 3000, Height: 2250, F35: 95, Ticks: ticks, Sigma: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	return f
}
