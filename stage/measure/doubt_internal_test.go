package measure

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"scalewright/finding"
)

// solved is a scene's solution.
func solved(t *testing.T, sc scene) (view, solution) {
	t.Helper()
	v := view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}
	sol, ok := v.solve(sc.pose, settings{})
	if !ok {
		t.Fatal("no solution")
	}
	return v, sol
}

// A needle that is cut off shows it by its last two pixels alone: the end must be as unsure
// as that, and the truth inside it. An end with a face is as sure as its rim.
func TestCutOffNeedle(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	const scenes = 6
	var squares float64
	for k := range scenes {
		tip := 0.1 + 0.1*float64(k)
		sc := sceneOf(t, rng, body{{s: 0, r: tip}, {s: 45, r: 12}, {s: 90, r: 12}, {s: 110, r: 8}}, 0)
		_, sol := solved(t, sc)
		var out Result
		if err := out.fill(t.Context(), nil, &sc.fit, sc.edge, sol, settings{}, Input{}, new(finding.List)); err != nil {
			t.Fatal(err)
		}
		off, u := out.Length.Value-110, out.Length.U
		squares += off * off / u / u
		if math.Abs(off) > 3*u {
			t.Errorf("tip %.1f: length off by %.3f mm of a standard uncertainty of %.3f", tip, off, u)
		}
		if sol.lo.u < 0.02 || sol.lo.u > 1 || sol.hi.u > 0.1 {
			t.Errorf("tip %.1f: the needle's end is sure to %.3f mm, the face to %.3f", tip, sol.lo.u, sol.hi.u)
		}
	}
	if z := math.Sqrt(squares / scenes); z > 1.6 {
		t.Errorf("lengths off by %.2f standard uncertainties, root mean square", z)
	}
}

// What one side alone shows is left out, named, and the body is as it was.
func TestSpurOnOneSide(t *testing.T) {
	rng := rand.New(rand.NewPCG(43, 44))
	sc := sceneOf(t, rng, body{{s: 0, r: 10}, {s: 40, r: 15}, {s: 110, r: 15}, {s: 120, r: 9}}, 0)
	v := view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}
	const from, to, out = 60.0, 72.0, 10.0 // pixels out, by and by: nothing of it faces the axis
	for i, e := range sc.edge {
		if c := sc.axis.contact(v.cam.C, v.sight[i]); c.s > from && c.s < to && e.out.Y > 0 {
			sc.edge[i].at = r2.Add(e.at, r2.Scale(out*math.Pow(math.Sin(math.Pi*(c.s-from)/(to-from)), 2), e.out))
		}
	}
	v, sol := solved(t, sc)
	var list finding.List
	v.checkEdge(&sol, settings{}, Input{}, &list)
	if len(list) != 1 || list[0].Code != "sides-differ" {
		t.Fatalf("findings %v, want that the sides differ", list)
	}
	for s := from - 5; s < to+5; s++ {
		if r, _ := sol.form.at(sol.lo.s + s); math.Abs(r-15) > 0.2 {
			t.Errorf("radius %.3f at station %.0f, want 15", r, s)
		}
	}
	for _, c := range sol.contests {
		if lo, hi := c.lo-sol.lo.s, c.hi-sol.lo.s; lo < from-3 || hi > to+3 {
			t.Errorf("the sides are said to differ from %.1f to %.1f, the spur is from %v to %v", lo, hi, from, to)
		}
	}
}

// Neighbours that err together leave more in doubt than as many that err each for itself,
// and only where they do.
func TestErringTogether(t *testing.T) {
	rng := rand.New(rand.NewPCG(45, 46))
	b := body{{s: 0, r: 10}, {s: 30, r: 14}, {s: 60, r: 14}, {s: 90, r: 10}, {s: 120, r: 9}}
	sc := sceneOf(t, rng, b, 0)
	_, plain := solved(t, sc)
	v := view{&sc.fit.Camera, sc.edge, sights(&sc.fit.Camera, sc.edge)}
	for i, e := range sc.edge { // to and fro, 4 mm at a time, one side out where the other is in
		if c := sc.axis.contact(v.cam.C, v.sight[i]); c.s > 65 && c.s < 85 {
			sc.edge[i].at = r2.Add(e.at, r2.Scale(math.Copysign(1.2, e.out.Y*math.Sin(math.Pi*c.s/4)), e.out))
		}
	}
	_, wavy := solved(t, sc)
	at := func(o solution, s float64) float64 { return o.uForm[int(s/stationStep)] }
	if a, b := at(plain, 75), at(wavy, 75); b < 3*a {
		t.Errorf("where the edge waves the radius is sure to %.4f mm, %.4f where it does not", b, a)
	}
	if a, b := at(plain, 40), at(wavy, 40); b > 2*a {
		t.Errorf("far from the waves the radius is sure to %.4f mm, %.4f without", b, a)
	}
}

// A scratch that notches the edge of an end just where the axis crosses it does not make
// the body shorter, and a few points that stand off the end's edge put no cap before it.
func TestEndNotchedAndCapped(t *testing.T) {
	for _, tt := range []struct {
		name string
		near float64 // of the end's middle, pixels
		out  float64 // pixels
	}{{"as it is", 0, 0}, {"notched", 40, -30}, {"capped", 8, 12}} {
		t.Run(tt.name, func(t *testing.T) {
			sc := sceneOf(t, rand.New(rand.NewPCG(47, 48)), body{{s: 0, r: 16}, {s: 50, r: 18}, {s: 110, r: 18}, {s: 120, r: 9}}, 0)
			middle, _ := sc.fit.Project(r3.Add(sc.axis.p, r3.Scale(-0.1, sc.axis.u)))
			first := 0 // the edge point nearest to where the axis leaves the end
			for i, e := range sc.edge {
				if r2.Norm(r2.Sub(e.at, middle)) < r2.Norm(r2.Sub(sc.edge[first].at, middle)) {
					first = i
				}
			}
			at := sc.edge[first].at
			for i, e := range sc.edge {
				if d := r2.Norm(r2.Sub(e.at, at)); d < tt.near {
					sc.edge[i].at = r2.Add(e.at, r2.Scale(tt.out*(1-d/tt.near), e.out))
				}
			}
			_, sol := solved(t, sc)
			if off := sol.hi.s - sol.lo.s - 120; math.Abs(off) > 0.35 {
				t.Errorf("the length is %.2f mm off", off)
			}
			if r, _ := sol.form.at(sol.lo.s + 0.05); math.Abs(r-16) > 0.3 {
				t.Errorf("the end's radius is %.2f, want 16", r)
			}
		})
	}
}
