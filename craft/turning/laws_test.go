package turning_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/craft/turning"
	"scalewright/model"
)

func ExampleRegion_Minus() {
	spigot := turning.Ring(0, 20, 40, 50).Minus(turning.Taper(19, 20, 50, 49, 60, 60))
	fmt.Printf("%.0f mm³ in %d loop of %d corners\n", spigot.Volume(), len(spigot.Loops()), len(spigot.Loops()[0]))
	// Output: 56393 mm³ in 1 loop of 5 corners
}

func ExampleInset() {
	cavity := turning.Inset([]model.Point{{Station: 0, Radius: 50}, {Station: 100, Radius: 50}}, 3, 2)
	fmt.Printf("%d points, radius %.2f\n", len(cavity), cavity[0].Radius)
	// Output: 2 points, radius 46.99
}

func TestZeroRegionIsEmpty(t *testing.T) {
	var zero turning.Region
	ring := turning.Ring(0, 1, 2, 3)
	if !zero.Empty() || zero.Volume() != 0 || zero.Loops() != nil || !math.IsInf(zero.LeastWall().Thickness, 1) {
		t.Error("the zero region is not empty")
	}
	if z0, z1, out := zero.Bounds(); z0 != 0 || z1 != 0 || out != 0 {
		t.Errorf("bounds %v %v %v", z0, z1, out)
	}
	if !zero.Minus(ring).Empty() || !zero.Intersect(ring).Empty() || zero.Union(ring).Volume() != ring.Volume() || ring.Minus(zero).Volume() != ring.Volume() {
		t.Error("the zero region does not combine as nothing")
	}
	for name, r := range map[string]turning.Region{
		"no height": turning.Ring(5, 5, 1, 2), "upside down": turning.Ring(5, 4, 1, 2), "no width": turning.Ring(0, 5, 2, 2),
		"inside out": turning.Ring(0, 5, 3, 2), "no profile": turning.Under(nil), "one point": turning.Under([]model.Point{{Radius: 5}}),
	} {
		if !r.Empty() {
			t.Errorf("%s: volume %v", name, r.Volume())
		}
	}
}

// Share is the area of the regular polygon inscribed in a circle over the
// circle's: n = 4, 2/π; n = 6, 3√3/2π (any mensuration table).
func TestShareOfKnownPolygons(t *testing.T) {
	near(t, "square", turning.Share(4), 2/math.Pi, 1e-12)
	near(t, "hexagon", turning.Share(6), 3*math.Sqrt(3)/(2*math.Pi), 1e-12)
}

// inside is whether the loops hold a point, by counting crossings outwards.
func inside(loops [][]model.Point, p model.Point) bool {
	odd := false
	for _, loop := range loops {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			if (a.Station > p.Station) == (b.Station > p.Station) {
				continue
			}
			if r := a.Radius + (p.Station-a.Station)/(b.Station-a.Station)*(b.Radius-a.Radius); r > p.Radius {
				odd = !odd
			}
		}
	}
	return odd
}

// Point by point, a combination holds what its definition says.
func TestCombinationsPointByPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := genRegion(t, "a"), genRegion(t, "b")
		la, lb := a.Loops(), b.Loops()
		union, both, less := a.Union(b).Loops(), a.Intersect(b).Loops(), a.Minus(b).Loops()
		for range 40 {
			// Off the half millimetre grid of corners, so on no edge but by chance.
			p := model.Point{
				Station: float64(rapid.IntRange(0, 400).Draw(t, "z"))/10 + 0.0137,
				Radius:  float64(rapid.IntRange(0, 400).Draw(t, "r"))/10 + 0.0091,
			}
			inA, inB := inside(la, p), inside(lb, p)
			if inside(union, p) != (inA || inB) || inside(both, p) != (inA && inB) || inside(less, p) != (inA && !inB) {
				t.Errorf("%v is in a %v, in b %v, in a∪b %v, in a∩b %v, in a\\b %v", p, inA, inB, inside(union, p), inside(both, p), inside(less, p))
			}
		}
	})
}

// Stations of an inset and of what is eased never run back, whatever the
// profile.
func TestInsetRunsForward(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		profile := []model.Point{{Radius: rapid.Float64Range(0, 60).Draw(t, "r")}}
		for range rapid.IntRange(1, 6).Draw(t, "n") {
			last := profile[len(profile)-1]
			profile = append(profile, model.Point{
				Station: last.Station + rapid.Float64Range(0, 40).Draw(t, "run"), Radius: rapid.Float64Range(0, 60).Draw(t, "r"),
			})
		}
		if profile[len(profile)-1].Station == 0 {
			return
		}
		cavity := turning.Inset(profile, rapid.Float64Range(0.5, 10).Draw(t, "wall"), 2)
		for _, line := range [][]model.Point{cavity, turning.SelfSupporting(cavity, 1, false), turning.SelfSupporting(cavity, 1, true)} {
			for i, p := range line {
				if i > 0 && p.Station < line[i-1].Station || p.Radius < 0 {
					t.Errorf("%v after %v", p, line[max(0, i-1)])
				}
			}
		}
		for _, p := range turning.SelfSupporting(cavity, 1, false) {
			if at := model.HighestBetween(cavity, p.Station-0.01, p.Station+0.01); p.Radius > at+0.02 {
				t.Errorf("easing widens the cavity at %v: %v, was %v", p.Station, p.Radius, at)
			}
		}
	})
}
