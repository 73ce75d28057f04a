package measure

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// grown is a scene's edge with a polygon put in on one side of the body in place of a
// stretch of it: its corners in mm along the axis and out of the body.
func (sc *scene) grown(v view, side float64, corners [][2]float64) []edgePoint {
	type place struct {
		s  float64
		at r2.Vec
	}
	across := func(e edgePoint) float64 { return e.out.Y * side }
	mm := 1 / mmPerPixel(v, sc.axis)
	var near []place
	for i, e := range sc.edge {
		if c := sc.axis.contact(v.cam.C, v.sight[i]); c.ok && across(e) > 0.5 {
			near = append(near, place{c.s, e.at})
		}
	}
	find := func(s float64) r2.Vec {
		best := near[0]
		for _, p := range near {
			if math.Abs(p.s-s) < math.Abs(best.s-s) {
				best = p
			}
		}
		return best.at
	}
	from, to := corners[0][0], corners[len(corners)-1][0]
	var pts []r2.Vec
	done := false
	for i, e := range sc.edge {
		c := sc.axis.contact(v.cam.C, v.sight[i])
		if !c.ok || c.s < from || c.s > to || across(e) <= 0.5 {
			pts = append(pts, e.at)
			continue
		}
		if done {
			continue
		}
		done = true
		list := slices.Clone(corners)
		if c.s > (from+to)/2 { // the outline is walked the other way here
			slices.Reverse(list)
		}
		for _, q := range list {
			pts = append(pts, r2.Add(find(q[0]), r2.Scale(q[1]*mm, r2.Vec{Y: side})))
		}
	}
	pts = resample(pts, 1)
	out := make([]edgePoint, len(pts))
	for i := range pts {
		at, dir := tangent(pts, i, 5)
		out[i] = edgePoint{at: at, out: outwards(dir), sigma: edgeNoise, good: true}
	}
	return out
}

// A fin's rear edge faces the axis for some way along it. A jag that a printed line leaves in
// the edge leans over a little too, and the edge falls away from it just as a fin's does.
func TestJagIsNoFin(t *testing.T) {
	for _, tt := range []struct {
		name    string
		corners [][2]float64
		fin     bool
	}{
		{"fin", [][2]float64{{50, 0}, {46, 14}, {62, 14}, {84, 0}}, true},
		{"jag", [][2]float64{{50, 0}, {49, 6}, {62, 6}, {72, 0}}, false},
		{"short", [][2]float64{{50, 0}, {46, 6}, {47.5, 6}, {51, 0}}, false},
	} {
		rng := rand.New(rand.NewPCG(61, 62))
		sc := sceneOf(t, rng, body{{s: 0, r: 14}, {s: 110, r: 16}, {s: 120, r: 9}}, 0)
		v := view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}
		sc.edge = sc.grown(v, 1, tt.corners)
		v = view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}
		if n := count(v.wings(sc.axis)); (n > 0) != tt.fin {
			t.Errorf("%s: %d points taken for a wing's", tt.name, n)
		}
	}
}
