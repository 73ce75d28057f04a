package measure

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// Where no step was found, or a stray one outside, the contour is the body's outline; what
// lies within it or belongs to a fin stays as it was seen.
func TestTraced(t *testing.T) {
	rng := rand.New(rand.NewPCG(63, 64))
	sc := sceneOf(t, rng, body{{s: 0, r: 10}, {s: 40, r: 15}, {s: 110, r: 15}, {s: 120, r: 9}}, 0)
	v, sol := solved(t, sc)
	const off = 6.0 // pixels
	for _, tt := range []struct {
		name       string
		good, skip bool
		by, want   float64
	}{
		{"no step", false, false, off, 0},
		{"no step, within", false, false, -off, 0},
		{"stray outside", true, false, off, 0},
		{"within: a groove", true, false, -off, -off},
		{"a fin's", true, true, off, off},
		{"far off", false, false, 2 * tracedMost, 2 * tracedMost},
	} {
		i := len(v.edge) / 4
		was, skip := v.edge[i], sol.skip[i]
		v.edge[i].good, sol.skip[i] = tt.good, tt.skip
		v.edge[i].at = r2.Add(was.at, r2.Scale(tt.by, was.out))
		v.sight[i] = sights(v.cam, v.edge)[i]
		q := v.traced(&sol)[i]
		if tt.by > tracedMost {
			sol.oneSided = make([]bool, len(v.edge))
			sol.oneSided[i] = true
			if near := v.traced(&sol)[i]; math.Abs(r2.Dot(r2.Sub(r2.Vec{X: near[0], Y: near[1]}, was.at), was.out)) > 4*edgeNoise {
				t.Errorf("%s, not believed: it stays at %v", tt.name, near)
			}
			sol.oneSided = nil
		}
		if got := r2.Dot(r2.Sub(r2.Vec{X: q[0], Y: q[1]}, was.at), was.out); math.Abs(got-tt.want) > 4*edgeNoise {
			t.Errorf("%s: %.2f px outside the true edge, want %.2f", tt.name, got, tt.want)
		}
		v.edge[i], sol.skip[i] = was, skip
		v.sight[i] = sights(v.cam, v.edge)[i]
	}
}

// Taken together, noisy steps come nearer to the truth than one by one, the outline's corners
// among them.
func TestTracedTogether(t *testing.T) {
	rng := rand.New(rand.NewPCG(67, 68))
	sc := sceneOf(t, rng, body{{s: 0, r: 10}, {s: 40, r: 15}, {s: 110, r: 15}, {s: 120, r: 9}}, 0)
	v, sol := solved(t, sc)
	const noise = 0.5 // pixels
	truth := make([]r2.Vec, len(v.edge))
	for i, e := range v.edge {
		truth[i] = e.at
		v.edge[i].at = r2.Add(e.at, r2.Scale(noise*rng.NormFloat64(), e.out))
		v.edge[i].sigma = noise
	}
	v.sight = sights(v.cam, v.edge)
	off := func(pts [][2]float64) (sum float64) {
		for i, e := range v.edge {
			d := r2.Dot(r2.Sub(r2.Vec{X: pts[i][0], Y: pts[i][1]}, truth[i]), e.out)
			sum += d * d
		}
		return math.Sqrt(sum / float64(len(pts)))
	}
	if raw, got := off(contourOf(v.edge)), off(v.traced(&sol)); got > raw/2 {
		t.Errorf("the contour lies %.2f px off, single steps %.2f", got, raw)
	}
}
