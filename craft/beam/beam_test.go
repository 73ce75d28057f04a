package beam_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/craft/beam"
)

func near(a, b, share float64) bool { return math.Abs(a-b) <= share*math.Abs(b) }

// A formula collection's worked example (structural analysis formulas): simple
// beam of 6 m under 2 kN/m, E 200 GPa, I 8·10⁻⁶ m⁴: 21.09 mm in the middle.
func ExampleOnTwo() {
	b := beam.OnTwo(beam.Spread(0, 6000, 12000, 400), 0, 6000, 200e3*8e6)
	fmt.Printf("%.2f mm at %.0f\n", b.Droop, b.DroopAt)
	// Output: 21.09 mm at 3000
}

// Cantilever of 2 m, 5 kN at its end, E 200 GPa, I 4·10⁻⁶ m⁴: PL³/3EI = 16.67 mm.
func ExampleHeld() {
	b := beam.Held([]beam.Load{{At: 2000, Force: 5000}}, 200e3*4e6)
	fmt.Printf("%.2f mm, %.0f N·m\n", b.Droop, b.Moment/1000)
	// Output: 16.67 mm, 10000 N·m
}

// The closed cases of the handbooks: simple with a load in the middle and at a
// third, overhang, cantilever with an even load.
func TestClosedCases(t *testing.T) {
	const ei, p, l = 1e9, 100.0, 1000.0
	for _, c := range []struct {
		name          string
		got           beam.Bent
		droop, moment float64
	}{
		{"simple, P in the middle", beam.OnTwo([]beam.Load{{l / 2, p}}, 0, l, ei), p * l * l * l / (48 * ei), p * l / 4},
		// P at a, b = L - a ≤ a: Pb(L² - b²)^1.5 / (9√3·L·EI), Pab/L.
		{"simple, P at two thirds", beam.OnTwo([]beam.Load{{2 * l / 3, p}}, 0, l, ei), p * (l / 3) * math.Pow(l*l-l*l/9, 1.5) / (9 * math.Sqrt(3) * l * ei), p * 2 * l / 9},
		// Overhang a beyond the span, P at its tip: Pa²(L + a)/3EI, Pa.
		{"overhang", beam.OnTwo([]beam.Load{{l + 250, p}}, 0, l, ei), p * 250 * 250 * (l + 250) / (3 * ei), p * 250},
		{"cantilever, even load", beam.Held(beam.Spread(0, l, p, 2000), ei), p * l * l * l / (8 * ei), p * l / 2},
		{"simple, even load", beam.OnTwo(beam.Spread(0, l, p, 2000), 0, l, ei), 5 * p * l * l * l / (384 * ei), p * l / 8},
	} {
		if !near(c.got.Droop, c.droop, 2e-3) || !near(c.got.Moment, c.moment, 1e-3) {
			t.Errorf("%s: droops %v, moment %v, want %v, %v", c.name, c.got.Droop, c.got.Moment, c.droop, c.moment)
		}
	}
}

// Sections of NPS pipes with least walls (ASTM D1785 sizes): NPS 1 is 1.315 in
// outside and 0.133 in thick.
func TestTube(t *testing.T) {
	s := beam.Section{Outside: 1.315 * 25.4, Bore: (1.315 - 2*0.133) * 25.4}
	if !near(s.Area(), 318.6, 1e-3) || !near(s.I(), 36355, 1e-3) || !near(s.Z(), 2177, 1e-3) {
		t.Errorf("area %v, I %v, Z %v", s.Area(), s.I(), s.Z())
	}
}

// Loads add up: what two loads do together is what each does alone, at a beam's
// middle seen through a load there of nought.
func TestSuperposition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := rapid.Float64Range(1, 999)
		a, b := place.Draw(t, "a"), place.Draw(t, "b")
		p, q := rapid.Float64Range(1, 500).Draw(t, "p"), rapid.Float64Range(1, 500).Draw(t, "q")
		both := beam.OnTwo([]beam.Load{{a, p}, {b, q}}, 0, 1000, 1e9)
		one, other := beam.OnTwo([]beam.Load{{a, p}}, 0, 1000, 1e9), beam.OnTwo([]beam.Load{{b, q}}, 0, 1000, 1e9)
		if both.Droop > (one.Droop+other.Droop)*1.005 || both.Droop < max(one.Droop, other.Droop)*(1-1e-2) {
			t.Errorf("together %v, alone %v and %v", both.Droop, one.Droop, other.Droop)
		}
		double := beam.OnTwo([]beam.Load{{a, 2 * p}}, 0, 1000, 1e9)
		if !near(double.Droop, 2*one.Droop, 1e-9) {
			t.Errorf("twice the load droops %v, want %v", double.Droop, 2*one.Droop)
		}
	})
}
