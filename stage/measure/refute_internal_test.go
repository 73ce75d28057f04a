package measure

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Something under one end that nobody named: the two places on which the body seems to
// rest are refuted by the rims of its ends, whose slope is taken; and where it does rest on
// them they are not.
func TestRimsRefuteRests(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	// The noses here are elliptic, and drawn with arcs: their rims tell the slope to a degree.
	const near = 1 * deg
	for k := range 6 {
		prop := 0.0
		if k%2 == 0 {
			prop = (3 + 2*rng.Float64()) * deg
		}
		sc := randomScene(t, rng, prop)
		v := view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}
		sol, ok := v.solve(sc.pose, settings{})
		if !ok {
			t.Fatalf("scene %d: no solution", k)
		}
		if sol.differ != (prop != 0) {
			t.Errorf("scene %d, propped by %.1f°: refuted %v", k, prop/deg, sol.differ)
		}
		if d := math.Asin(sol.axis.u.Z) - math.Asin(sc.axis.u.Z); math.Abs(d) > near {
			t.Errorf("scene %d: slope off by %.2f° of %.2f°", k, d/deg, math.Asin(sc.axis.u.Z)/deg)
		}
	}
}
