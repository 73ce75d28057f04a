package turning_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/craft/turning"
	"scalewright/model"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.Abs(got-want) > tol*max(1, math.Abs(want)) {
		t.Errorf("%s = %v, want %v", what, got, want)
	}
}

// profile is points given as station and radius.
func profile(zr ...float64) []model.Point {
	var points []model.Point
	for i := 0; i < len(zr); i += 2 {
		points = append(points, model.Point{Station: zr[i], Radius: zr[i+1]})
	}
	return points
}

func TestVolumeOfBodies(t *testing.T) {
	// Closed forms of any mensuration table: V = πh(R² + Rr + r²)/3 for the
	// frustum, 2π²Rr² for the torus (Pappus).
	near(t, "frustum 30 to 20, 60 high", turning.Under(profile(0, 30, 60, 20)).Volume(), 119380.521, 1e-8)
	const n = 20000
	torus := 0.0
	for i := range n {
		z0, z1 := -10*math.Cos(math.Pi*float64(i)/n), -10*math.Cos(math.Pi*float64(i+1)/n)
		h0, h1 := 10*math.Sin(math.Pi*float64(i)/n), 10*math.Sin(math.Pi*float64(i+1)/n)
		torus += turning.Taper(z0, z1, 50-h0, 50-h1, 50+h0, 50+h1).Volume()
	}
	near(t, "torus R 50, r 10", torus, 98696.044, 1e-5)
}

func TestLoopsOfATubeWithAGroove(t *testing.T) {
	tube := turning.Ring(0, 100, 40, 50).Minus(turning.Ring(30, 40, 45, 60))
	loops := tube.Loops()
	if len(loops) != 1 || len(loops[0]) != 8 {
		t.Fatalf("loops = %v, want one of 8 corners", loops)
	}
	window := turning.Ring(0, 100, 40, 50).Minus(turning.Ring(30, 40, 43, 47))
	if got := window.Loops(); len(got) != 2 {
		t.Fatalf("loops = %v, want an outer one and a hole", got)
	}
	thin := tube.LeastWall()
	near(t, "least wall", thin.Thickness, 5, 1e-9)
}

func genRegion(t *rapid.T, label string) turning.Region {
	var r turning.Region
	for range rapid.IntRange(1, 4).Draw(t, label+" bands") {
		f := func(name string) float64 { return float64(rapid.IntRange(0, 40).Draw(t, label+name)) / 2 }
		z, h := f("z"), f("h")
		in0, in1 := f("in0"), f("in1")
		r = r.Union(turning.Taper(z, z+h, in0, in1, in0+f("t0"), in1+f("t1")))
	}
	return r
}

func TestVolumesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := genRegion(t, "a"), genRegion(t, "b")
		union, both, less := a.Union(b).Volume(), a.Intersect(b).Volume(), a.Minus(b).Volume()
		tol := 1e-4 * max(1, a.Volume()+b.Volume()) // the grid, times the surface
		if math.Abs(union+both-a.Volume()-b.Volume()) > tol {
			t.Errorf("V(a∪b) + V(a∩b) = %v, want V(a) + V(b) = %v", union+both, a.Volume()+b.Volume())
		}
		if math.Abs(less+both-a.Volume()) > tol {
			t.Errorf("V(a\\b) + V(a∩b) = %v, want V(a) = %v", less+both, a.Volume())
		}
		if !a.Minus(a).Empty() {
			t.Error("a less itself is not empty")
		}
	})
}

// The loops, integrated by Pappus's theorem (V = π∮r²dz), must sweep what the
// bands do: a check that shares no code with either.
func TestLoopsSweepTheVolume(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := genRegion(t, "a").Minus(genRegion(t, "b"))
		swept := 0.0
		for _, loop := range r.Loops() {
			for i, p := range loop {
				q := loop[(i+1)%len(loop)]
				swept += math.Pi * (q.Station - p.Station) * (p.Radius*p.Radius + p.Radius*q.Radius + q.Radius*q.Radius) / 3
			}
		}
		if want := r.Volume(); math.Abs(swept-want) > 1e-4*max(1, want) {
			t.Errorf("loops sweep %v, want %v", swept, want)
		}
	})
}

func TestInsetKeepsTheWall(t *testing.T) {
	outer := profile(0, 39, 84, 39, 84, 96, 180, 126, 672, 126, 672, 117, 684, 117, 684, 126, 828, 126, 900, 102)
	cavity := turning.Inset(outer, 2.4, 2)
	shell := turning.Under(outer).Minus(turning.Under(cavity))
	if thin := shell.LeastWall(); thin.Thickness < 2.4 {
		t.Errorf("least wall %v, want 2.4", thin)
	}
	eased := turning.SelfSupporting(cavity, 1, false)
	for i := 1; i < len(eased); i++ {
		fall := eased[i-1].Radius - eased[i].Radius
		if height := eased[i].Station - eased[i-1].Station; fall > height+0.02 {
			t.Errorf("ceiling at %v falls %v over %v", eased[i].Station, fall, height)
		}
	}
	if thin := turning.Under(outer).Minus(turning.Under(eased)).LeastWall(); thin.Thickness < 2.4 {
		t.Errorf("after easing: least wall %v, want 2.4", thin)
	}
}
