package platform_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/craft/platform"
	"scalewright/solid"
)

func rectangle(p, q float64) []solid.Point {
	return []solid.Point{{0, 0}, {p, 0}, {p, q}, {0, q}}
}

func ExampleTurn() {
	angle, fits := platform.Turn(rectangle(350, 40), 290, 290)
	fmt.Printf("at %.0f°: %v\n", angle*180/math.Pi, fits)
	// Output: at 45°: true
}

// A rectangle p by q, p ≥ q, goes into one a by b, a ≥ b, just when p ≤ a and
// q ≤ b, or p > a, q ≤ b and b ≥ (2pqa + (p² - q²)√(p² + q² - a²)) / (p² + q²): W. B.
// Carver, Solution to problem E1225, American Mathematical Monthly 64 (1957) 114.
func fitsByCarver(p, q, a, b float64) (bool, float64) {
	if p <= a {
		return q <= b, math.Min(a-p, math.Abs(b-q))
	}
	need := (2*p*q*a + (p*p-q*q)*math.Sqrt(p*p+q*q-a*a)) / (p*p + q*q)
	return b >= need, math.Min(p-a, math.Abs(b-need))
}

func TestTurnIsCarversTheorem(t *testing.T) {
	turned := 0
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Float64Range(200, 400)
		p, a, b := side.Draw(t, "p"), side.Draw(t, "a"), side.Draw(t, "b")
		q := rapid.Float64Range(1, 250).Draw(t, "q")
		p, q, a, b = max(p, q), min(p, q), max(a, b), min(a, b)
		want, margin := fitsByCarver(p, q, a, b)
		if margin < 1e-6 {
			return
		}
		angle, fits := platform.Turn(rectangle(p, q), a, b)
		if fits != want {
			t.Fatalf("%v by %v in %v by %v: %v at %v, want %v", p, q, a, b, fits, angle, want)
		}
		if fits && p > a {
			turned++
		}
	})
	if turned == 0 {
		t.Error("no case had to be turned")
	}
}

// The share that is left is the least of all angles, tried one by one.
func TestTurnIsTheBestOfAllAngles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var points []solid.Point
		for range rapid.IntRange(1, 9).Draw(t, "n") {
			points = append(points, solid.Point{
				float64(rapid.IntRange(-200, 200).Draw(t, "x")), float64(rapid.IntRange(-200, 200).Draw(t, "y")),
			})
		}
		hull := platform.Hull(points)
		wide, deep := rapid.Float64Range(20, 400).Draw(t, "wide"), rapid.Float64Range(20, 400).Draw(t, "deep")
		share := func(angle float64) float64 {
			low, high := solid.Point{math.Inf(1), math.Inf(1)}, solid.Point{math.Inf(-1), math.Inf(-1)}
			for _, p := range points {
				q := solid.Point{p[0]*math.Cos(angle) - p[1]*math.Sin(angle), p[0]*math.Sin(angle) + p[1]*math.Cos(angle)}
				for k := range q {
					low[k], high[k] = min(low[k], q[k]), max(high[k], q[k])
				}
			}
			return max((high[0]-low[0])/wide, (high[1]-low[1])/deep)
		}
		best := math.Inf(1)
		for k := range 720 {
			best = min(best, share(float64(k)*math.Pi/720))
		}
		angle, fits := platform.Turn(hull, wide, deep)
		got := share(angle)
		if angle != 0 && got > best+1e-9 {
			t.Fatalf("share %v at %v, and %v by trying", got, angle, best)
		}
		if fits != (got <= 1+1e-12) {
			t.Fatalf("fits %v with a share of %v", fits, got)
		}
		if !fits && best <= 1 {
			t.Fatalf("said not to fit, and trying finds a share of %v", best)
		}
	})
}

func TestHullHoldsItsPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var points []solid.Point
		for range rapid.IntRange(0, 30).Draw(t, "n") {
			points = append(points, solid.Point{float64(rapid.IntRange(-5, 5).Draw(t, "x")), float64(rapid.IntRange(-5, 5).Draw(t, "y"))})
		}
		hull := platform.Hull(points)
		for i := range hull {
			a, b := hull[i], hull[(i+1)%len(hull)]
			for _, p := range points {
				if len(hull) > 2 && solid.Orient(a, b, p) == solid.Clockwise {
					t.Fatalf("%v lies outside the side from %v to %v", p, a, b)
				}
			}
		}
		if len(hull) < 3 {
			return
		}
		box := func(angle float64) (long, wide float64) {
			low, high := solid.Point{math.Inf(1), math.Inf(1)}, solid.Point{math.Inf(-1), math.Inf(-1)}
			for _, p := range points {
				q := solid.Point{p[0]*math.Cos(angle) + p[1]*math.Sin(angle), p[1]*math.Cos(angle) - p[0]*math.Sin(angle)}
				for k := range q {
					low[k], high[k] = min(low[k], q[k]), max(high[k], q[k])
				}
			}
			return high[0] - low[0], high[1] - low[1]
		}
		d := platform.LongSide(hull)
		long, wide := box(math.Atan2(d[1], d[0]))
		if long < wide-1e-9 || math.Abs(math.Hypot(d[0], d[1])-1) > 1e-12 {
			t.Fatalf("the long side is %v, the other %v", long, wide)
		}
		for k := range 360 {
			if l, w := box(float64(k) * math.Pi / 360); l*w < long*wide*(1-1e-6) {
				t.Fatalf("the rectangle has %v mm², and %v at %d half degrees", long*wide, l*w, k)
			}
		}
	})
}

// What can't lie anywhere doesn't.
func TestTurnOfNothing(t *testing.T) {
	for name, c := range map[string]struct {
		hull       []solid.Point
		wide, deep float64
	}{
		"no hull":     {nil, 10, 10},
		"no room":     {rectangle(1, 1), 0, 10},
		"less":        {rectangle(1, 1), 10, -1},
		"no number":   {rectangle(1, 1), math.NaN(), 10},
		"one point":   {[]solid.Point{{3, 4}}, 0, 0},
		"far too big": {rectangle(1e6, 1e6), 10, 10},
	} {
		if angle, fits := platform.Turn(c.hull, c.wide, c.deep); fits || angle-angle != 0 {
			t.Errorf("%s: %v, %v", name, angle, fits)
		}
	}
}
