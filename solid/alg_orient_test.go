package solid_test

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
)

// slowOrient is the definition in rational numbers.
func slowOrient(a, b, c solid.Point) solid.Turning {
	rat := func(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }
	sub := func(x, y float64) *big.Rat { return new(big.Rat).Sub(rat(x), rat(y)) }
	l := new(big.Rat).Mul(sub(b[0], a[0]), sub(c[1], a[1]))
	r := new(big.Rat).Mul(sub(b[1], a[1]), sub(c[0], a[0]))
	return solid.Turning(l.Cmp(r))
}

// somePoint draws a point that is likely to be in line with others.
func somePoint(t *rapid.T, label string) solid.Point {
	coord := rapid.OneOf(
		rapid.Map(rapid.IntRange(-3, 3), func(i int) float64 { return float64(i) }),
		rapid.Map(rapid.IntRange(-8, 8), func(i int) float64 { return 12 + float64(i)*0x1p-49 }),
		rapid.Float64Range(-1e3, 1e3),
		rapid.SampledFrom([]float64{5e-324, -5e-324, 1e-200, 1e200, -math.MaxFloat64, math.MaxFloat64, 0.1, 0.2, 0.30000000000000004}),
	)
	return solid.Point{coord.Draw(t, label+" x"), coord.Draw(t, label+" y")}
}

func TestOrientIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := somePoint(t, "a"), somePoint(t, "b"), somePoint(t, "c")
		got := solid.Orient(a, b, c)
		if want := slowOrient(a, b, c); got != want {
			t.Fatalf("Orient(%v, %v, %v) = %d, want %d", a, b, c, got, want)
		}
		if solid.Orient(b, c, a) != got || solid.Orient(b, a, c) != -got {
			t.Fatalf("the laws fail for %v, %v, %v", a, b, c)
		}
	})
}

// Points of a grid of the finest step near (12, 12) against a line through
// (0.5, 0.5): the plain determinant gets many of these wrong. The set is that of
// L. Kettner, K. Mehlhorn, S. Pion, S. Schirra and C. Yap, "Classroom examples of
// robustness problems in geometric computations", Comput. Geom. 40 (2008), fig. 2.
func TestOrientClassroom(t *testing.T) {
	q, r := solid.Point{12, 12}, solid.Point{24, 24}
	for i := range 64 {
		for j := range 64 {
			p := solid.Point{0.5 + float64(i)*0x1p-53, 0.5 + float64(j)*0x1p-53}
			if got, want := solid.Orient(p, q, r), slowOrient(p, q, r); got != want {
				t.Fatalf("%d, %d: %d, want %d", i, j, got, want)
			}
		}
	}
}

func TestCollinear(t *testing.T) {
	a, b := solid.Vec{0.1, 0.2, 0.3}, solid.Vec{0.2, 0.4, 0.6}
	if !solid.Collinear(a, b, solid.Vec{0.4, 0.8, 1.2}) {
		t.Error("doubled vectors are in line")
	}
	if solid.Collinear(a, b, solid.Vec{0.4, 0.8, math.Nextafter(1.2, 2)}) {
		t.Error("one step off is not in line")
	}
}
