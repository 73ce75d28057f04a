package unit_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/unit"
)

func ExampleValue_Sub() {
	// Two rings of one printer: its offset cancels, only their scatter stays.
	offset := unit.Source{Name: "printer", U: 0.3}
	a, b := unit.Estimate(100, 0.03, offset), unit.Estimate(90, 0.04, offset)
	d := a.Sub(b)
	fmt.Printf("%.0f ± %.2f\n", d.X, d.U)
	// Output: 10 ± 0.05
}

// The end gauge of JCGM 100:2008, H.1: l = lS + d - lS·(δα·θ + αS·δθ), with
// u(lS) 25 nm, u(d) 9.7 nm, and at αS = 11.5e-6 /°C, θ = -0.1 °C the
// contributions 2.9 nm (δα) and 16.6 nm (δθ). Published: 50.000838 mm, u_c = 32 nm
// (u_c² = 1002 nm²).
func TestEndGauge(t *testing.T) {
	const nm = 1e-6 // in mm
	const length = 50.000623
	standard := unit.Estimate(length, 25*nm)
	// u(d) of its three parts: repeated observations 5.8 nm, comparator random
	// effects 3.9 nm, systematic effects 6.7 nm.
	difference := unit.Estimate(215*nm, 5.8*nm).Add(unit.Estimate(0, 3.9*nm)).Add(unit.Estimate(0, 6.7*nm))
	if got := difference.U / nm; math.Abs(got-9.7) > 0.05 {
		t.Errorf("u(d) = %v nm, want 9.7", got)
	}
	expansion := unit.Estimate(0, 0.58e-6).Scale(-length * -0.1)
	temperature := unit.Estimate(0, 0.029).Scale(-length * 11.5e-6)
	if got := expansion.U / nm; math.Abs(got-2.9) > 0.05 {
		t.Errorf("contribution of δα = %v nm, want 2.9", got)
	}
	if got := temperature.U / nm; math.Abs(got-16.6) > 0.1 {
		t.Errorf("contribution of δθ = %v nm, want 16.6", got)
	}
	gauge := standard.Add(difference).Add(expansion).Add(temperature)
	if math.Abs(gauge.X-50.000838) > 0.5*nm {
		t.Errorf("l = %v, want 50.000838", gauge.X)
	}
	if got := gauge.U / nm; math.Round(got) != 32 || math.Abs(got*got-1002) > 10 {
		t.Errorf("u_c = %v nm, u_c² = %v nm², want 32 and 1002", got, got*got)
	}
}

// JCGM 100:2008, 5.2.2, example: ten resistors of 1000 Ω, each compared with one
// standard of u = 100 mΩ, in series: fully correlated, u = 1 Ω; were they
// independent it would be 0.32 Ω.
func TestTenResistors(t *testing.T) {
	shared, apart := unit.Exact(0), unit.Exact(0)
	for range 10 {
		shared = shared.Add(unit.Estimate(1000, 0, unit.Source{Name: "standard", U: 0.1}))
		apart = apart.Add(unit.Estimate(1000, 0.1))
	}
	if shared.X != 10000 || math.Abs(shared.U-1) > 1e-12 {
		t.Errorf("correlated: %v ± %v, want 10000 ± 1", shared.X, shared.U)
	}
	if math.Abs(apart.U-0.32) > 0.005 {
		t.Errorf("independent: ± %v, want 0.32", apart.U)
	}
}

func genValue(t *rapid.T, label string) unit.Value {
	f := func(name string) float64 { return float64(rapid.IntRange(-100, 100).Draw(t, label+name)) / 8 }
	var sources []unit.Source
	for _, name := range []string{"b", "a", "c"} {
		if rapid.Bool().Draw(t, label+" has "+name) {
			sources = append(sources, unit.Source{Name: name, U: f(name)})
		}
	}
	return unit.Estimate(f("x"), math.Abs(f("u")), sources...)
}

func near(a, b unit.Value) bool {
	// Cancelling squares leave the root of the rounding: 1e-6 of values near 100.
	if math.Abs(a.X-b.X) > 1e-9 || math.Abs(a.U-b.U) > 1e-5 {
		return false
	}
	share := func(v unit.Value, name string) (u float64) {
		for _, s := range v.Sources {
			if s.Name == name {
				u += s.U
			}
		}
		return u
	}
	for _, name := range []string{"a", "b", "c"} {
		if math.Abs(share(a, name)-share(b, name)) > 1e-9 {
			return false
		}
	}
	return true
}

func TestValueLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := genValue(t, "a"), genValue(t, "b"), genValue(t, "c")
		if !near(a.Add(b), b.Add(a)) {
			t.Errorf("a + b = %v, b + a = %v", a.Add(b), b.Add(a))
		}
		if !near(a.Add(b).Add(c), a.Add(b.Add(c))) {
			t.Errorf("(a + b) + c = %v, a + (b + c) = %v", a.Add(b).Add(c), a.Add(b.Add(c)))
		}
		if !near(a.Add(b).Scale(-2), a.Scale(-2).Add(b.Scale(-2))) {
			t.Errorf("-2(a + b) = %v", a.Add(b).Scale(-2))
		}
		if !near(a.Add(unit.Value{}), a) {
			t.Errorf("a + 0 = %v, want %v", a.Add(unit.Value{}), a)
		}
		if d := a.Sub(a); d.X != 0 || math.Abs(d.U-a.Independent()*math.Sqrt2) > 1e-5 {
			// The tempting law a - a = 0 is false: two values of one make-up have
			// their scatter each for itself.
			t.Errorf("a - a = %v, want 0 ± √2·%v", d, a.Independent())
		}
		for i := 1; i < len(a.Sources); i++ {
			if a.Sources[i-1].Name >= a.Sources[i].Name {
				t.Errorf("sources %v are not sorted", a.Sources)
			}
		}
	})
}
