package solid

import (
	"math"
	"math/big"
)

// Side is on which side of three points a fourth lies.
type Side int8

// The three answers of [OrientSpace].
const (
	Below Side = -1
	On    Side = 0
	Above Side = 1
)

// maxOrientSpaceError bounds the rounding error of the plain determinant,
// relative to the sum of the magnitudes of its products: 7 + 56u in units of
// u = 2⁻⁵³ (Shewchuk 1997, section 4.3, the constant o3derrboundA of his public
// predicates). 8 instead of 7 covers what a product that underflows may lose.
const maxOrientSpaceError = 8 * 0x1p-53

// Between these magnitudes neither a product of three coordinates nor its
// lowest bit, 2⁻¹⁵⁶ below, leaves the range of float64: the expansion is exact.
const minExactSpace, maxExactSpace = 0x1p-300, 0x1p+330

// OrientSpace returns on which side of the plane through a, b and c the point d
// lies: Above where a, b, c run anticlockwise seen from d, which for a triangle
// of a solid is the outside. The answer is exact for every finite input: a plain
// determinant where its error bound allows, else an expansion, else rational
// numbers. Source: J. R. Shewchuk, "Adaptive precision floating-point arithmetic
// and fast robust geometric predicates", Discrete Comput. Geom. 18 (1997).
//
// Laws (each a property test): an even exchange of the four keeps the answer, an
// odd one negates it; On exactly where the four lie in one plane. Tempting and
// false: that d is On for a point computed inside the triangle.
func OrientSpace(a, b, c, d Vec) Side {
	ax, ay, az := a[0]-d[0], a[1]-d[1], a[2]-d[2]
	bx, by, bz := b[0]-d[0], b[1]-d[1], b[2]-d[2]
	cx, cy, cz := c[0]-d[0], c[1]-d[1], c[2]-d[2]
	if az == 0 && bz == 0 && cz == 0 || ay == 0 && by == 0 && cy == 0 || ax == 0 && bx == 0 && cx == 0 {
		return On // in a plane along the axes, as half the faces of made things are
	}
	bcx, cbx := float64(bx*cy), float64(cx*by)
	cax, acx := float64(cx*ay), float64(ax*cy)
	abx, bax := float64(ax*by), float64(bx*ay)
	det := float64(az*(bcx-cbx)) + float64(bz*(cax-acx)) + float64(cz*(abx-bax))
	bound := maxOrientSpaceError * (float64((math.Abs(bcx)+math.Abs(cbx))*math.Abs(az)) +
		float64((math.Abs(cax)+math.Abs(acx))*math.Abs(bz)) +
		float64((math.Abs(abx)+math.Abs(bax))*math.Abs(cz)))
	// Where a product underflowed or overflowed the bound means nothing.
	if math.Abs(det) > bound && bound > 0x1p-600 && bound < 0x1p900 {
		return sideOf(-det)
	}
	if bound < 0x1p900 && exactDifference(a, d) && exactDifference(b, d) && exactDifference(c, d) {
		return orientOfDifferences(Vec{ax, ay, az}, Vec{bx, by, bz}, Vec{cx, cy, cz})
	}
	return orientSpaceExact(a, b, c, d)
}

// exactDifference reports whether p − q is not rounded in any coordinate, as
// between points near each other; the error is Knuth's TWO-DIFF.
func exactDifference(p, q Vec) bool {
	for k := range 3 {
		x := p[k] - q[k]
		v := p[k] - x
		w := x + v
		if p[k]-w != 0 || v-q[k] != 0 {
			return false
		}
	}
	return true
}

// orientOfDifferences is the determinant of three exact vectors, six triple
// products.
func orientOfDifferences(a, b, c Vec) Side {
	if !inExactRange(a, b, c) {
		return orientSpaceRational(a, b, c, Vec{})
	}
	var e spaceSum
	for k := range 3 {
		i, j := (k+1)%3, (k+2)%3
		e.addTriple(b[i], c[j], a[k])
		e.addTriple(-b[j], c[i], a[k])
	}
	return sideOf(-e.sign())
}

func inExactRange(points ...Vec) bool {
	for _, p := range points {
		for _, x := range p {
			if m := math.Abs(x); m != 0 && (m < minExactSpace || m > maxExactSpace) {
				return false
			}
		}
	}
	return true
}

func sideOf(x float64) Side {
	switch {
	case x > 0:
		return Above
	case x < 0:
		return Below
	default:
		return On
	}
}

// orientSpaceExact develops the 4×4 determinant of the points and a column of
// ones: 2×2 minors of x and y, sums of three of them, each times a z.
func orientSpaceExact(a, b, c, d Vec) Side {
	if !inExactRange(a, b, c, d) {
		return orientSpaceRational(a, b, c, d)
	}
	var e spaceSum
	e.addMinors(a, b, c, -d[2])
	e.addMinors(b, c, d, a[2])
	e.addMinors(c, d, a, -b[2])
	e.addMinors(d, a, b, c[2])
	return sideOf(-e.sign())
}

// spaceSum is an expansion: numbers that don't overlap, smallest first, whose
// exact sum is meant. The last one has its sign.
type spaceSum struct {
	e [192]float64 // 4 points × 3 minors × 2 products × 2 terms × 2 terms, and to spare
	n int
}

// addMinors adds z·(pq + qr + rp), where pq = p.x·q.y − q.x·p.y.
func (s *spaceSum) addMinors(p, q, r Vec, z float64) {
	s.addTriple(p[0], q[1], z)
	s.addTriple(-q[0], p[1], z)
	s.addTriple(q[0], r[1], z)
	s.addTriple(-r[0], q[1], z)
	s.addTriple(r[0], p[1], z)
	s.addTriple(-p[0], r[1], z)
}

// addTriple adds x·y·z. Each product is held as the rounded one and its error,
// which a fused multiplication gives exactly.
func (s *spaceSum) addTriple(x, y, z float64) {
	p := float64(x * y)
	for _, part := range [2]float64{math.FMA(x, y, -p), p} {
		if q := float64(part * z); q != 0 {
			s.add(math.FMA(part, z, -q))
			s.add(q)
		}
	}
}

// add is Shewchuk's GROW-EXPANSION, zeros left out.
func (s *spaceSum) add(x float64) {
	m := 0
	for _, y := range s.e[:s.n] {
		t := x + y
		v := t - x
		err := (x - (t - v)) + (y - v)
		x = t
		if err != 0 {
			s.e[m] = err
			m++
		}
	}
	if x != 0 {
		s.e[m] = x
		m++
	}
	s.n = m
}

func (s *spaceSum) sign() float64 {
	if s.n == 0 {
		return 0
	}
	return s.e[s.n-1]
}

func orientSpaceRational(a, b, c, d Vec) Side {
	rat := func(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }
	var m [3][3]*big.Rat
	for i, p := range [...]Vec{a, b, c} {
		for k := range 3 {
			m[i][k] = rat(p[k])
			m[i][k].Sub(m[i][k], rat(d[k]))
		}
	}
	det := new(big.Rat)
	for k := range 3 {
		i, j := (k+1)%3, (k+2)%3
		minor := new(big.Rat).Mul(m[1][i], m[2][j])
		minor.Sub(minor, new(big.Rat).Mul(m[1][j], m[2][i]))
		det.Add(det, minor.Mul(minor, m[0][k]))
	}
	return Side(-det.Sign())
}
