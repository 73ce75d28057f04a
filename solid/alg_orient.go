package solid

import (
	"math"
	"math/big"
)

// Turning is how a path of three points turns.
type Turning int8

// The three answers of [Orient].
const (
	Clockwise        Turning = -1
	Straight         Turning = 0
	CounterClockwise Turning = 1
)

// maxOrientError bounds the rounding error of the plain determinant, relative
// to the sum of the magnitudes of its two products: (3 + 16u)·u with u = 2⁻⁵³.
// Source: J. R. Shewchuk, "Adaptive precision floating-point arithmetic and
// fast robust geometric predicates", Discrete Comput. Geom. 18 (1997), figure 21.
const maxOrientError = (3 + 16*0x1p-53) * 0x1p-53

// Between these magnitudes no product of two coordinates, nor the rounding
// error of one, leaves the range of float64, so the expansion below is exact.
const minExact, maxExact = 0x1p-450, 0x1p500

// Orient returns how the path a, b, c turns. The answer is exact for every
// finite input: a plain determinant where its error bound allows, else the sum
// of six exact products, else rational numbers.
//
// Laws (each a property test): Orient(a,b,c) = Orient(b,c,a) = −Orient(b,a,c);
// the answer is Straight exactly where the points lie on one line. Tempting and
// false: that Orient(a,b,m) is Straight for the computed midpoint m of a and b.
func Orient(a, b, c Point) Turning {
	left := float64((a[0] - c[0]) * (b[1] - c[1]))
	right := float64((a[1] - c[1]) * (b[0] - c[0]))
	det := left - right
	// The bound is void where a product underflowed: hence the least magnitude.
	if bound := maxOrientError * (math.Abs(left) + math.Abs(right)); math.Abs(det) > bound && bound > 0x1p-900 {
		return turningOf(det)
	}
	return orientExact(a, b, c)
}

func turningOf(det float64) Turning {
	switch {
	case det > 0:
		return CounterClockwise
	case det < 0:
		return Clockwise
	default:
		return Straight
	}
}

func orientExact(a, b, c Point) Turning {
	for _, p := range [...]Point{a, b, c} {
		for _, x := range p {
			if m := math.Abs(x); m != 0 && (m < minExact || m > maxExact) {
				return orientRational(a, b, c)
			}
		}
	}
	// ab + bc + ca, each a 2×2 determinant: six products, each held exactly as
	// the rounded product and its error, added one by one into an expansion
	// (Shewchuk, GROW-EXPANSION) whose last non-zero term has the sign.
	var e [12]float64
	n := 0
	grow := func(x float64) {
		m := 0
		for _, y := range e[:n] {
			s := x + y
			v := s - x
			err := (x - (s - v)) + (y - v)
			x = s
			if err != 0 {
				e[m] = err
				m++
			}
		}
		if x != 0 {
			e[m] = x
			m++
		}
		n = m
	}
	product := func(x, y float64) {
		p := float64(x * y)
		grow(math.FMA(x, y, -p))
		grow(p)
	}
	product(a[0], b[1])
	product(-a[1], b[0])
	product(b[0], c[1])
	product(-b[1], c[0])
	product(c[0], a[1])
	product(-c[1], a[0])
	if n == 0 {
		return Straight
	}
	return turningOf(e[n-1])
}

func orientRational(a, b, c Point) Turning {
	rat := func(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }
	sub := func(x, y float64) *big.Rat { return new(big.Rat).Sub(rat(x), rat(y)) }
	left := new(big.Rat).Mul(sub(a[0], c[0]), sub(b[1], c[1]))
	right := new(big.Rat).Mul(sub(a[1], c[1]), sub(b[0], c[0]))
	return Turning(left.Cmp(right))
}

// Collinear reports whether three points lie exactly on one line, as they do
// where all three shadows along the axes are straight.
func Collinear(a, b, c Vec) bool {
	for k := range 3 {
		i, j := (k+1)%3, (k+2)%3
		if Orient(Point{a[i], a[j]}, Point{b[i], b[j]}, Point{c[i], c[j]}) != Straight {
			return false
		}
	}
	return true
}
