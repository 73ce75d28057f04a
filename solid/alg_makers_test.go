package solid_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
	"scalewright/solid/solidtest"
)

func TestSphere(t *testing.T) {
	// The recipe made apart from this code gives the same corners and triangles.
	got := must(solid.Sphere(solid.Vec{20, 0, 0}, 50, 16))
	want := solidtest.Sphere(16, 50, solid.Vec{20, 0, 0})
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Error("the sphere differs from the recipe")
	}
	for _, n := range []int{1, 2, 3, 7, 30} {
		m := must(solid.Sphere(solid.Vec{1, 2, 3}, 5, n))
		wantSolid(t, "sphere", m)
		if len(m.Triangles) != 8*n*n {
			t.Errorf("n %d: %d triangles, want %d", n, len(m.Triangles), 8*n*n)
		}
	}
	if m := must(solid.Sphere(solid.Vec{}, 3, 1)); !near(m.Volume(), 4.0/3*27, 1e-15) {
		t.Errorf("octahedron: volume %v, want 4/3·r³ = 36", m.Volume())
	}
	// The volume comes to 4/3·π·r³ from below, with the square of n.
	ball := 4.0 / 3 * math.Pi
	least := 1.0
	for _, n := range []int{20, 40} {
		missing := 1 - must(solid.Sphere(solid.Vec{}, 1, n)).Volume()/ball
		if missing <= 0 || missing > least/3.5 {
			t.Errorf("n %d: share %v of the ball is missing", n, missing)
		}
		least = missing
	}
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		centre solid.Vec
		radius float64
		n      int
	}{
		{solid.Vec{nan, 0, 0}, 1, 4},
		{solid.Vec{0, 0, inf}, 1, 4},
		{solid.Vec{}, 0, 4},
		{solid.Vec{}, nan, 4},
		{solid.Vec{}, inf, 4},
		{solid.Vec{}, 1, 0},
		{solid.Vec{}, 1, 1 << 30},
		{solid.Vec{1e15, 0, 0}, 1, 8},
	} {
		_, err := solid.Sphere(c.centre, c.radius, c.n)
		if _, ok := errors.AsType[*solid.ValueError](err); !ok {
			t.Errorf("Sphere(%v) = %v, want a ValueError", c, err)
		}
	}
}

func TestTube(t *testing.T) {
	m := must(solid.Tube(solid.TubeSize{Outer: 30, Bore: 20, Low: -5, High: 35, Segments: 48}))
	wantSolid(t, "tube", m)
	// Area of a regular n-gon of circumradius r: n/2·r²·sin(2π/n).
	area := 24 * math.Sin(2*math.Pi/48) * (30*30 - 20*20)
	if !near(m.Volume(), area*40, 1e-12) {
		t.Errorf("volume %v, want %v", m.Volume(), area*40)
	}
	if rod := must(solid.Tube(solid.TubeSize{Outer: 1, High: 1, Segments: 4})); !near(rod.Volume(), 2, 1e-12) {
		t.Errorf("square rod: volume %v, want 2", rod.Volume())
	}
	nan := math.NaN()
	for _, s := range []solid.TubeSize{
		{Outer: 1, Bore: 1, High: 1, Segments: 8},
		{Outer: nan, High: 1, Segments: 8},
		{Outer: 1, Bore: -1, High: 1, Segments: 8},
		{Outer: 1, Bore: nan, High: 1, Segments: 8},
		{Outer: 1, Segments: 8},
		{Outer: 1, Low: nan, High: 1, Segments: 8},
		{Outer: math.Inf(1), High: 1, Segments: 8},
		{Outer: 1, High: 1, Segments: 2},
	} {
		_, err := solid.Tube(s)
		if _, ok := errors.AsType[*solid.ValueError](err); !ok {
			t.Errorf("Tube(%+v) = %v, want a ValueError", s, err)
		}
	}
}

func square(half float64) []solid.Point {
	return []solid.Point{{half, -half}, {half, half}, {-half, half}, {-half, -half}}
}

func ring(r float64, n int) []solid.Point {
	out := make([]solid.Point, n)
	for k := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		out[k] = solid.Point{r * cos, r * sin}
	}
	return out
}

func TestLoftVolumes(t *testing.T) {
	tip := []solid.Point{{1, 2}}
	for _, c := range []struct {
		name     string
		sections []solid.LoftSection
		want     float64
	}{
		// h/3·(A + B + √(A·B)); a pyramid with B = 0; an obelisk (prismatoid)
		// h/6·((2a + c)·b + (2c + a)·d), a×b below and c×d above. Source: Bronstein
		// and Semendjajew, Taschenbuch der Mathematik, section on polyhedra.
		{"frustum", []solid.LoftSection{{0, square(3)}, {10, square(1)}}, 10.0 / 3 * (36 + 4 + 12)},
		{"pyramid", []solid.LoftSection{{2, square(3)}, {11, tip}}, 9.0 / 3 * 36},
		{"double pyramid", []solid.LoftSection{{0, tip}, {1, square(1)}, {5, tip}}, 5.0 / 3 * 4},
		{"obelisk", []solid.LoftSection{
			{0, []solid.Point{{0, 0}, {6, 0}, {6, 4}, {0, 4}}},
			{12, []solid.Point{{2, 1}, {5, 1}, {5, 3}, {2, 3}}},
		}, 12.0 / 6 * ((2*6+3)*4 + (2*3+6)*2)},
		{"prism", []solid.LoftSection{{0, square(1)}, {1, square(1)}, {4, square(1)}}, 16},
		{"cone", []solid.LoftSection{{0, ring(3, 7)}, {5, []solid.Point{{9, 9}}}}, 5.0 / 3 * 3.5 * 9 * math.Sin(2*math.Pi/7)},
	} {
		m, err := solid.Loft(c.sections)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		wantSolid(t, c.name, m)
		if !near(m.Volume(), c.want, 1e-12) {
			t.Errorf("%s: volume %v, want %v", c.name, m.Volume(), c.want)
		}
	}
}

// Whatever the numbers of points, the volume of a slice between parallel planes
// is that of a prismatoid: h/6·(A + 4·M + B), with the middle section M as found
// by Section.
func TestLoftIsAPrismatoid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		loop := func(label string) []solid.Point {
			n := rapid.IntRange(3, 12).Draw(t, label)
			out := make([]solid.Point, n)
			turn := rapid.Float64Range(-0.3, 0.3).Draw(t, "turn")
			for k := range out {
				r := rapid.Float64Range(4, 6).Draw(t, "r")
				sin, cos := math.Sincos(turn + 2*math.Pi*float64(k)/float64(n))
				out[k] = solid.Point{r * cos, r * sin}
			}
			return out
		}
		low, high := loop("low"), loop("high")
		m, err := solid.Loft([]solid.LoftSection{{-1, low}, {5, high}})
		if err != nil {
			t.Fatal(err)
		}
		if len(m.Triangles) != 2*(len(low)+len(high))-4 {
			t.Fatalf("%d triangles for %d and %d points", len(m.Triangles), len(low), len(high))
		}
		middle := must(solid.Section(m, solid.PlaneZ(2))).Area
		a, b := solid.Region{Outer: low}.Area(), solid.Region{Outer: high}.Area()
		if want := a + 4*middle + b; !near(m.Volume(), want, 1e-9) {
			t.Fatalf("volume %v, want %v", m.Volume(), want)
		}
	})
}

func TestLoftRefuses(t *testing.T) {
	tip := []solid.Point{{0, 0}}
	for name, sections := range map[string][]solid.LoftSection{
		"one section":      {{0, square(1)}},
		"two tips":         {{0, tip}, {1, tip}},
		"tip in between":   {{0, square(1)}, {1, tip}, {2, square(1)}},
		"falling stations": {{0, square(1)}, {0, square(2)}},
		"station NaN":      {{0, square(1)}, {math.NaN(), square(2)}},
		"bow tie":          {{0, square(1)}, {1, []solid.Point{{0, 0}, {1, 1}, {1, 0}, {0, 1}}}},
		"clockwise":        {{0, square(1)}, {1, []solid.Point{{0, 0}, {0, 1}, {1, 1}, {1, 0}}}},
		"tip NaN":          {{0, square(1)}, {1, []solid.Point{{math.NaN(), 0}}}},
	} {
		if m, err := solid.Loft(sections); err == nil {
			t.Errorf("%s: made %d triangles, want an error", name, len(m.Triangles))
		}
	}
	_, err := solid.Loft([]solid.LoftSection{{0, square(1)}, {1, square(1)[:2]}})
	if e, ok := errors.AsType[*solid.LoftError](err); !ok || e.Section != 1 {
		t.Errorf("error %v, want one of section 1", err)
	}
	if e, ok := errors.AsType[*solid.LoopError](err); !ok || e.Fault != solid.TooFewPoints {
		t.Errorf("error %v, want too few points", err)
	}
}

func ExampleLoft() {
	// A round foot that becomes a square post, and ends in a tip.
	foot := []solid.Point{{4, 0}, {2.8, 2.8}, {0, 4}, {-2.8, 2.8}, {-4, 0}, {-2.8, -2.8}, {0, -4}, {2.8, -2.8}}
	post := []solid.Point{{2, 0}, {0, 2}, {-2, 0}, {0, -2}}
	m, err := solid.Loft([]solid.LoftSection{{0, foot}, {6, post}, {20, post}, {23, []solid.Point{{0, 0}}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("closed: %v, %d triangles, %.1f mm³\n", m.Closed(), len(m.Triangles), m.Volume())
	// Output:
	// closed: true, 30 triangles, 270.4 mm³
}
