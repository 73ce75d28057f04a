package surface_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scalewright/craft/surface"
)

// 0.2 mm layers on a face at 45°: 0.1414 mm (Dolenc & Mäkelä's formula).
func ExampleCusp() {
	fmt.Printf("%.4f\n", surface.Cusp(0.2, math.Sqrt2/2))
	// Output: 0.1414
}

// 400 ml at 20 % solids, 25 µm dry, 60 % of it on the work: 1.92 m².
func ExampleCoverage() {
	fmt.Printf("%.2f\n", surface.Coverage(0.4, 0.2, 0.025, 0.6))
	// Output: 1.92
}

func TestCusps(t *testing.T) {
	for _, c := range []struct{ layer, angle, want float64 }{{0.3, 60, 0.150}, {0.1, 80, 0.01736}, {0.2, 90, 0}, {0.2, 0, 0}, {0.28, 30, 0.24249}} {
		if got := surface.Cusp(c.layer, math.Cos(c.angle*math.Pi/180)); math.Abs(got-c.want) > 5e-5 {
			t.Errorf("%v layers at %v°: %v, want %v", c.layer, c.angle, got, c.want)
		}
	}
}

// The mean roughness of a sawtooth c deep is c/4: the mean of |y - mean| over its
// length, here by quadrature.
func TestSawtoothIsAQuarter(t *testing.T) {
	c := surface.Cusp(0.2, 0.6)
	sum, n := 0.0, 100000
	for i := range n {
		sum += math.Abs(c*(float64(i)+0.5)/float64(n) - c/2)
	}
	if got := sum / float64(n); math.Abs(got-c/4) > 1e-9 {
		t.Errorf("mean roughness %v of a stair of %v, want a quarter", got, c)
	}
}

// So many cycles are enough, and one fewer is not.
func TestCyclesAreEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		depth, limit := rapid.Float64Range(0.01, 0.5).Draw(t, "depth"), rapid.Float64Range(0.005, 0.2).Draw(t, "limit")
		share := rapid.Float64Range(0.2, 0.7).Draw(t, "share")
		n := surface.Cycles(depth, limit, share)
		if left := depth * math.Pow(1-share, float64(n)); left > limit*(1+1e-6) {
			t.Errorf("%d cycles leave %v, want %v", n, left, limit)
		}
		if n > 1 && depth*math.Pow(1-share, float64(n-1)) <= limit*(1-1e-6) {
			t.Errorf("%d cycles would do", n-1)
		}
	})
}

// 100 µm wet at 50 % solids dry to 50 µm.
func TestDry(t *testing.T) {
	if got := surface.Dry(0.1, 0.5); got != 0.05 {
		t.Errorf("dry film %v", got)
	}
}
