package beam_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/craft/beam"
)

// simpson integrates by Simpson's rule.
func simpson(f func(float64) float64, a, b float64, n int) float64 {
	h := (b - a) / float64(n)
	sum := f(a) + f(b)
	for i := 1; i < n; i++ {
		sum += f(a+h*float64(i)) * float64(2+2*(i%2))
	}
	return sum * h / 3
}

// A second way to a deflection that integrates no curvature along the beam: the
// unit load method (Maxwell and Mohr), w(x) = ∫ M·m/EI, m the moment of a force of
// 1 at x. Statics alone gives both moments.
func TestAgreesWithTheUnitLoadMethod(t *testing.T) {
	const a, b, ei = 200.0, 900.0, 3e9
	onTwo := func(loads []beam.Load) func(float64) float64 {
		ra, total := 0.0, 0.0
		for _, l := range loads {
			ra += l.Force * (b - l.At) / (b - a)
			total += l.Force
		}
		return func(x float64) float64 { // sagging is positive
			m := ra*max(0, x-a) + (total-ra)*max(0, x-b)
			for _, l := range loads {
				m -= l.Force * max(0, x-l.At)
			}
			return m
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		// Places on whole tens, so that corners fall on nodes of the rule.
		place := rapid.IntRange(0, 120)
		var loads []beam.Load
		for range rapid.IntRange(1, 4).Draw(t, "loads") {
			loads = append(loads, beam.Load{At: 10 * float64(place.Draw(t, "at")), Force: rapid.Float64Range(-50, 50).Draw(t, "force")})
		}
		x := 10 * float64(place.Draw(t, "x"))
		moment, unit := onTwo(loads), onTwo([]beam.Load{{At: x, Force: 1}})
		want := simpson(func(z float64) float64 { return moment(z) * unit(z) / ei }, 0, 1200, 480)
		if got := beam.OnTwoAt(loads, a, b, ei, x); math.Abs(got-want) > 1e-9*(1+math.Abs(want)) {
			t.Errorf("on two at %v: %v, by the unit load %v", x, got, want)
		}
		held := simpson(func(z float64) float64 {
			m := 0.0
			for _, l := range loads {
				m += l.Force * max(0, l.At-z)
			}
			return m * max(0, x-z) / ei
		}, 0, 1200, 480)
		if got := beam.HeldAt(loads, ei, x); math.Abs(got-held) > 1e-9*(1+math.Abs(held)) {
			t.Errorf("held at %v: %v, by the unit load %v", x, got, held)
		}
	})
}

// Maxwell's reciprocity: a force here moves there as much as one there moves here.
func TestReciprocity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := rapid.Float64Range(0, 1500)
		x, y := place.Draw(t, "x"), place.Draw(t, "y")
		one := beam.OnTwoAt([]beam.Load{{At: x, Force: 1}}, 300, 1000, 1e9, y)
		other := beam.OnTwoAt([]beam.Load{{At: y, Force: 1}}, 300, 1000, 1e9, x)
		if math.Abs(one-other) > 1e-9*(1e-3+math.Abs(one)) {
			t.Errorf("%v there, %v here", one, other)
		}
	})
}

func ExampleOnTwoAt() {
	// The worked overhang of 1 m past a span of 4 m, P 1000 N, EI 10⁶ N·m²:
	// Pa²(L + a)/3EI = 1.6667 mm at the tip.
	tip := beam.OnTwoAt([]beam.Load{{At: 5000, Force: 1000}}, 0, 4000, 1e12, 5000)
	// And the far end of a beam that rests on both ends does not move.
	end := beam.OnTwoAt([]beam.Load{{At: 2000, Force: 1000}}, 0, 4000, 1e12, 4000)
	fmt.Printf("%.4f mm, %.4f mm\n", tip, math.Abs(end))
	// Output: 1.6667 mm, 0.0000 mm
}
