package limb_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"scalewright/craft/limb"
)

// A ball about a place of the axis is passed by the distance of the ray from its middle
// less its radius, whatever the ray.
func TestPassOfABall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		axis := r3.Unit(r3.Vec{X: 1, Y: rapid.Float64Range(-2, 2).Draw(t, "u"), Z: rapid.Float64Range(-0.2, 0.2).Draw(t, "v")})
		origin := r3.Vec{X: 3, Y: -4, Z: 20}
		station := rapid.Float64Range(-100, 100).Draw(t, "station")
		radius := rapid.Float64Range(1, 40).Draw(t, "radius")
		middle := r3.Add(origin, r3.Scale(station, axis))
		c := r3.Vec{X: rapid.Float64Range(-200, 200).Draw(t, "x"), Y: rapid.Float64Range(-200, 200).Draw(t, "y"), Z: 500}
		to := r3.Add(middle, r3.Vec{X: rapid.Float64Range(-50, 50).Draw(t, "a"), Y: rapid.Float64Range(-50, 50).Draw(t, "b")})
		d := r3.Unit(r3.Sub(to, c))
		want := r3.Norm(r3.Cross(r3.Sub(middle, c), d)) - radius
		p := limb.PassOf(origin, axis, c, d)
		at, n := p.Touches(station, 0, radius, limb.NormalAt(-math.Pi/2), limb.NormalAt(math.Pi/2))
		if n != 1 {
			t.Fatalf("%d places of a ball are touched", n)
		}
		if got := p.Gap(station, 0, radius, at[0]); math.Abs(got-want) > 1e-5 {
			t.Fatalf("gap %v, want %v", got, want)
		}
	})
}

// A rim is passed by the least distance of the ray from its circle, where the ray passes
// outside its disc: here against places all round the circle.
func TestPassOfARim(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		radius := rapid.Float64Range(2, 30).Draw(t, "radius")
		c := r3.Vec{X: rapid.Float64Range(-200, 200).Draw(t, "x"), Y: rapid.Float64Range(-100, 100).Draw(t, "y"), Z: 400}
		to := r3.Vec{X: rapid.Float64Range(-40, 40).Draw(t, "a"), Y: rapid.Float64Range(-40, 40).Draw(t, "b")}
		d := r3.Unit(r3.Sub(to, c))
		// Where it crosses the disc's plane.
		x := r3.Add(c, r3.Scale(-c.X/d.X, d))
		if math.Hypot(x.Y, x.Z) <= radius || math.Abs(d.X) < 1e-3 {
			t.Skip("through the disc, or along it")
		}
		want := math.Inf(1)
		const n = 20000
		for k := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / n)
			want = min(want, r3.Norm(r3.Cross(r3.Sub(r3.Vec{Y: radius * cos, Z: radius * sin}, c), d)))
		}
		p := limb.PassOf(r3.Vec{}, r3.Vec{X: 1}, c, d)
		at, m := p.Touches(0, radius, 0, limb.NormalAt(-math.Pi/2), limb.NormalAt(math.Pi/2))
		got := math.Inf(-1)
		for _, a := range at[:m] {
			got = max(got, p.Gap(0, radius, 0, a))
		}
		if math.Abs(got-want) > 1e-3 {
			t.Fatalf("gap %v of %d, want %v", got, m, want)
		}
	})
}

// Gradient is the change of Gap, by differences.
func TestPassGradient(t *testing.T) {
	p := limb.Pass{Near: 12, Station: 3, Lean: 0.3}
	n := limb.NormalAt(0.7)
	near, station, lean := p.Gradient(n)
	const h = 1e-6
	for k, c := range []struct {
		move func(*limb.Pass)
		want float64
	}{
		{func(q *limb.Pass) { q.Near += h }, near},
		{func(q *limb.Pass) { q.Station += h }, station},
		{func(q *limb.Pass) { q.Lean += h }, lean},
	} {
		q := p
		c.move(&q)
		if got := (q.Gap(1, 10, 0, n) - p.Gap(1, 10, 0, n)) / h; math.Abs(got-c.want) > 1e-5 {
			t.Errorf("%d: %v, want %v", k, got, c.want)
		}
	}
}

// Rays along the axis, square to it and through it are passed without a number that is none.
func TestPassOddly(t *testing.T) {
	for _, d := range []r3.Vec{{X: 1}, {Z: -1}, {X: 1, Z: -1}, {Y: 1}} {
		p := limb.PassOf(r3.Vec{}, r3.Vec{X: 1}, r3.Vec{Z: 100}, r3.Unit(d))
		for _, radius := range []float64{0, 5, 200} {
			at, n := p.Touches(0, radius, 0, limb.NormalAt(-math.Pi/2), limb.NormalAt(math.Pi/2))
			for _, a := range at[:n] {
				if g := p.Gap(0, radius, 0, a); math.IsNaN(g) {
					t.Errorf("direction %v, radius %v: gap %v", d, radius, g)
				}
			}
		}
	}
}

func ExamplePass_Gap() {
	// A cylinder of radius 20, its axis 30 below a ray that runs square to it.
	p := limb.PassOf(r3.Vec{}, r3.Vec{X: 1}, r3.Vec{X: 5, Y: -400, Z: 30}, r3.Vec{Y: 1})
	fmt.Printf("%.3f\n", p.Gap(0, 20, 0, limb.NormalAt(0)))
	// Output: 10.000
}
