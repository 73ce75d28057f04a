package measure

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// An end is as sure as its own edge: where that lies off the outline, the body may end so
// far off, and where it narrows anywhere up to its point.
func TestOpenEnds(t *testing.T) {
	rng := rand.New(rand.NewPCG(71, 72))
	for _, tt := range []struct {
		name  string
		b     body
		point float64 // mm from the low end, that the body would run on to
	}{
		{"a cylinder", body{{s: 0, r: 12}, {s: 70, r: 12}, {s: 80, r: 15}, {s: 110, r: 15}}, math.Inf(1)},
		{"a cone cut off", body{{s: 0, r: 4}, {s: 40, r: 14}, {s: 80, r: 14}, {s: 110, r: 12}}, 16},
	} {
		t.Run(tt.name, func(t *testing.T) {
			v, sol := solved(t, sceneOf(t, rng, tt.b, 0))
			lo, hi := sol.lo.u, sol.hi.u
			v.openEnds(&sol)
			if sol.lo.u != lo || sol.hi.u != hi {
				t.Fatalf("a good edge: %.3f and %.3f mm, were %.3f and %.3f", sol.lo.u, sol.hi.u, lo, hi)
			}
			seen := slices.Clone(v.edge)
			for i := range v.edge {
				if c := sol.axis.contact(v.cam.C, v.sight[i]); math.Abs(c.s-sol.form.joints[0].s) < 0.6 {
					v.edge[i].good = false
				}
			}
			v.openEnds(&sol)
			if blind := endAstray * mmPerPixel(v, sol.axis); sol.lo.u < blind || sol.hi.u != hi {
				t.Errorf("no step shows: the end is sure to %.3f mm, want %.3f at least; the other to %.3f, was %.3f", sol.lo.u, blind, sol.hi.u, hi)
			}
			sol.lo.u = lo
			copy(v.edge, seen)
			const by = 5.0 // pixels
			moved := 0
			for i, e := range v.edge {
				if c := sol.axis.contact(v.cam.C, v.sight[i]); math.Abs(c.s-sol.form.joints[0].s) < 0.3 {
					v.edge[i].at = r2.Add(e.at, r2.Scale(by, e.out))
					moved++
				}
			}
			v.sight = sights(v.cam, v.edge)
			v.openEnds(&sol)
			want := by * mmPerPixel(v, sol.axis)
			if !math.IsInf(tt.point, 1) {
				want = math.Hypot(want, tt.point/math.Sqrt(3))
			}
			if moved < 20 || math.Abs(sol.lo.u-want) > 0.3*want || sol.hi.u != hi {
				t.Errorf("%d points %g px off: the end is sure to %.3f mm, want %.3f; the other to %.3f, was %.3f", moved, by, sol.lo.u, want, sol.hi.u, hi)
			}
		})
	}
}
