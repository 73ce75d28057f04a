package drawing_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"scalewright/drawing"
)

// Clear against a slow look: places all over the turned letters, asked whether they
// lie on a line or in other letters.
func TestClear(t *testing.T) {
	met, free := 0, 0
	rnd := rand.New(rand.NewPCG(5, 9))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rnd.Float64() }
	for range 1000 {
		s := drawing.New(100, 100)
		a := drawing.Pt(between(0, 100), between(0, 100))
		b := drawing.Pt(between(0, 100), between(0, 100))
		s.Line(a, b, drawing.Thin)
		words := drawing.Text{
			At: drawing.Pt(between(30, 70), between(30, 70)), String: "seam of bell and tail",
			Size: drawing.SizeSmall, Rotate: between(-180, 180),
		}
		c := words.Corners()
		if d := c[0].Dist(c[1]); math.Abs(d-words.Width()) > 1e-9 {
			t.Fatalf("letters %v wide stand in a box of %v", words.Width(), d)
		}
		right, down := c[1].Sub(c[0]), c[3].Sub(c[0])
		crossed := false
		const steps = 4000
		for i := range steps + 1 {
			p := a.Add(b.Sub(a).Mul(float64(i) / steps)).Sub(c[0])
			u := (p.X*right.X + p.Y*right.Y) / (right.X*right.X + right.Y*right.Y)
			v := (p.X*down.X + p.Y*down.Y) / (down.X*down.X + down.Y*down.Y)
			if u > 0.01 && u < 0.99 && v > 0.05 && v < 0.95 {
				crossed = true
			}
		}
		got := s.Clear(words)
		if crossed && got {
			t.Fatalf("%v across the line %v to %v counts as free", c, a, b)
		}
		if got {
			free++
		} else {
			met++
		}
		near := math.Inf(1)
		for _, q := range c {
			near = min(near, lineDistance(q, a, b))
		}
		if !got && !crossed && near > 3 {
			t.Fatalf("%v counts as crossed by the line %v to %v, %v off", c, a, b, near)
		}
		s.Text(words)
		if s.Clear(words) {
			t.Fatal("letters over themselves count as free")
		}
		out := words
		out.At = drawing.Pt(99, 50)
		out.Rotate = 0
		if s.Clear(out) {
			t.Fatal("letters off the paper count as free")
		}
	}
	if met == 0 || free == 0 {
		t.Errorf("%d met, %d free: only one of both was tried", met, free)
	}
}

func lineDistance(p, a, b drawing.Point) float64 {
	d := b.Sub(a)
	u := ((p.X-a.X)*d.X + (p.Y-a.Y)*d.Y) / (d.X*d.X + d.Y*d.Y)
	return p.Dist(a.Add(d.Mul(min(max(u, 0), 1))))
}
