package measure

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// An edge as good as most are leaves the usual doubt of both sides alike; one that errs by
// whole stretches, so that it lies off the outline by the mean, leaves as much more.
func TestBias(t *testing.T) {
	rng := rand.New(rand.NewPCG(73, 74))
	v, sol := solved(t, sceneOf(t, rng, body{{s: 0, r: 10}, {s: 40, r: 15}, {s: 110, r: 15}, {s: 120, r: 9}}, 0))
	if got := v.bias(&sol); got != edgeBias {
		t.Errorf("a good edge: %.3f px, want %g", got, edgeBias)
	}
	const by = 1.0 // pixels, out and in by turns
	for i, e := range v.edge {
		v.edge[i].at = r2.Add(e.at, r2.Scale(by*float64(1-2*(i/40%2)), e.out))
	}
	v.sight = sights(v.cam, v.edge)
	want := math.Hypot(edgeBias, offAlike*math.Sqrt(by*by-offUsual*offUsual))
	if got := v.bias(&sol); math.Abs(got-want) > 0.1*want {
		t.Errorf("an edge off by %g px: %.3f px, want %.3f", by, got, want)
	}
}
