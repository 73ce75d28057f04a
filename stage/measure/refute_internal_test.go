package measure

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/craft/camera"
	"scalewright/craft/limb"
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

// A body leaned as its rims have it lies on one place alone only where something that does
// not show may hold its other end: what is hidden reaches no farther than the outline.
func TestHeldUp(t *testing.T) {
	cam := &camera.Camera{F: 1000, Cx: 499.5, Cy: 374.5, C: r3.Vec{X: 50, Z: 400}}
	cam.R = [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}
	flange := joint{20, 25} // its weight lies about station 50
	for name, c := range map[string]struct {
		other, slope float64 // radius of the body at its other end; of the axis, rad
		dark         bool    // nothing was read there
		denied       []reachOf
		fin          bool // something stands out there, as far as the flange
		set          settings
		want         bool
	}{
		"all shows, too narrow":              {other: 10},
		"dark, and too narrow":               {other: 10, dark: true},
		"dark, and as wide":                  {other: 25, dark: true, want: true},
		"dark, and as wide as leaned":        {other: 12, slope: -0.2, dark: true, want: true},
		"a fin beyond the weight":            {other: 10, fin: true, want: true},
		"what was denied, beyond the weight": {other: 25, denied: []reachOf{{85, 95}}, want: true},
		"what was denied, too narrow":        {other: 10, denied: []reachOf{{85, 95}}},
		"the maker says that it is hidden":   {other: 10, set: settings{hidden: []hidden{{70, 80}}}, want: true},
	} {
		a := axis{r3.Vec{Z: 25}, r3.Vec{X: 1}}
		o := solution{axis: a, form: form{
			joints: []joint{{0, 10}, {19, 10}, {19, 25}, {21, 25}, {21, 10}, {80, 10}, {80, c.other}, {100, c.other}},
			spans:  []span{{}, {kind: faceSpan}, {}, {kind: faceSpan}, {}, {kind: faceSpan}, {}},
		}}
		o.hi.s, o.denied = 100, c.denied
		for s := 0.0; s <= 100; s += stationStep {
			r, _ := o.form.at(s)
			st := station{s: s, r: r, seen: bothSides}
			if c.dark && s > 85 && s < 95 {
				st = station{s: s}
			}
			o.prof = append(o.prof, st)
		}
		v := view{cam: cam}
		for range 2 * wingLeast {
			v.sight = append(v.sight, sight{d: r3.Unit(r3.Sub(r3.Vec{X: 90, Y: 25, Z: 25}, cam.C))})
			v.edge = append(v.edge, edgePoint{good: true})
			o.skip = append(o.skip, c.fin)
		}
		if got := o.heldUp(c.set, v, flange, c.slope); got != c.want {
			t.Errorf("%s: held %v", name, got)
		}
	}
}

// A body with fins, whose outline has a flange where two of them are, lies lower than the
// flange would let it.
func TestHungOnFins(t *testing.T) {
	seen := body{{s: 0, r: 0}, {s: 0, r: 7}, {s: 50, r: 11}, {s: 108, r: 11}, {s: 112, r: 21}, {s: 130, r: 21}, {s: 134, r: 11}, {s: 150, r: 11}, {s: 150, r: 0}}
	const high = 11.0
	a := axis{r3.Vec{X: 120, Y: 150, Z: high}, r3.Vec{X: 1}}
	cam := &camera.Camera{F: 2000, Cx: 999.5, Cy: 749.5, C: r3.Vec{X: 240, Y: 170, Z: 420}}
	cam.R = [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}
	outline := resample(outlineSeen(seen, a, cam), 1)
	if area(outline) < 0 {
		slices.Reverse(outline)
	}
	edge := make([]edgePoint, len(outline))
	for i := range edge {
		at, dir := tangent(outline, i, 5)
		edge[i] = edgePoint{at: at, out: outwards(dir), sigma: 0.1, good: true}
	}
	// Along a tenth of the body no edge was found: something might hold it up there.
	for i, g := range sights(cam, edge) {
		if s := limb.PassOf(a.p, a.u, cam.C, g.d).Station; s > 20 && s < 35 {
			edge[i].good = false
		}
	}
	from, _ := cam.Project(r3.Add(a.p, r3.Vec{X: 5}))
	to, _ := cam.Project(r3.Add(a.p, r3.Vec{X: 145}))
	v := view{cam, edge, sights(cam, edge)}
	sol, ok := v.solve(pose{a: from, b: to, ha: 20, hb: 20}, settings{})
	if !ok || !sol.differ {
		t.Fatalf("hung on its fins: solved %v, refuted %v", ok, sol.differ)
	}
	for _, s := range [2]float64{sol.lo.s, sol.hi.s} {
		if z := sol.axis.p.Z + s*sol.axis.u.Z; math.Abs(z-high) > 2 {
			t.Errorf("axis %.2f mm over the mat, true %.2f; the flange would hold it at 21", z, high)
		}
	}
}
