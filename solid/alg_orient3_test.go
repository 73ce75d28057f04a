package solid_test

import (
	"fmt"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
)

// slowOrientSpace is the definition in whole numbers: the determinant by Leibniz,
// every coordinate an integer multiple of 2⁻¹⁰⁷⁴.
func slowOrientSpace(a, b, c, d solid.Vec) solid.Side {
	whole := func(x float64) *big.Int {
		r := new(big.Rat).SetFloat64(x)
		n := new(big.Int).Lsh(r.Num(), 1074)
		return n.Quo(n, r.Denom())
	}
	var m [3][3]*big.Int
	for i, p := range [...]solid.Vec{a, b, c} {
		for k := range 3 {
			m[i][k] = new(big.Int).Sub(whole(p[k]), whole(d[k]))
		}
	}
	det := new(big.Int)
	for i, p := range [][3]int{{0, 1, 2}, {1, 2, 0}, {2, 0, 1}, {0, 2, 1}, {2, 1, 0}, {1, 0, 2}} {
		x := new(big.Int).Mul(m[0][p[0]], m[1][p[1]])
		x.Mul(x, m[2][p[2]])
		if i < 3 {
			det.Add(det, x)
		} else {
			det.Sub(det, x)
		}
	}
	return solid.Side(-det.Sign())
}

// someVec draws a point that is likely to be in one plane with others.
func someVec(t *rapid.T, label string) solid.Vec {
	coord := rapid.OneOf(
		rapid.Map(rapid.IntRange(-2, 2), func(i int) float64 { return float64(i) }),
		rapid.Map(rapid.IntRange(-4, 4), func(i int) float64 { return 12 + float64(i)*0x1p-49 }),
		rapid.Float64Range(-1e3, 1e3),
		rapid.SampledFrom([]float64{5e-324, 1e-200, -1e-100, 1e200, math.MaxFloat64, -math.MaxFloat64, 0.1, 0.2, 0.30000000000000004}),
	)
	return solid.Vec{coord.Draw(t, label+" x"), coord.Draw(t, label+" y"), coord.Draw(t, label+" z")}
}

func TestOrientSpaceIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c, d := someVec(t, "a"), someVec(t, "b"), someVec(t, "c"), someVec(t, "d")
		if rapid.Bool().Draw(t, "near the plane") {
			u, v := rapid.Float64Range(-1, 2).Draw(t, "u"), rapid.Float64Range(-1, 2).Draw(t, "v")
			d = a.Add(b.Sub(a).Scale(u)).Add(c.Sub(a).Scale(v))
			if d.Length()-d.Length() != 0 {
				d = a
			}
		}
		got := solid.OrientSpace(a, b, c, d)
		if want := slowOrientSpace(a, b, c, d); got != want {
			t.Fatalf("OrientSpace(%v, %v, %v, %v) = %d, want %d", a, b, c, d, got, want)
		}
		if solid.OrientSpace(b, c, a, d) != got || solid.OrientSpace(b, a, c, d) != -got || solid.OrientSpace(d, b, c, a) != -got {
			t.Fatalf("the laws fail for %v, %v, %v, %v", a, b, c, d)
		}
	})
}

func ExampleOrientSpace() {
	a, b, c := solid.Vec{0, 0, 0}, solid.Vec{1, 0, 0}, solid.Vec{0, 1, 0}
	fmt.Println(solid.OrientSpace(a, b, c, solid.Vec{0, 0, 1e-300}) == solid.Above)
	// Output: true
}
