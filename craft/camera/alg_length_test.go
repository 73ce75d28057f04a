package camera_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"scalewright/craft/camera"
)

// A camera that looks straight down, with the focal length that its file says, is
// found exactly, wherever the length lies.
func TestFromLengthExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const w, h, f35 = 3000, 2250, 26
		true0 := camera.Camera{
			F: camera.FocalPixels(f35, w, h), Cx: (w - 1) / 2.0, Cy: (h - 1) / 2.0,
			R: [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}},
			C: r3.Vec{Z: rapid.Float64Range(200, 900).Draw(t, "height")},
		}
		z := rapid.Float64Range(0, 60).Draw(t, "above")
		at := func(name string) r3.Vec {
			return r3.Vec{X: rapid.Float64Range(-150, 150).Draw(t, name+" x"), Y: rapid.Float64Range(-100, 100).Draw(t, name+" y"), Z: z}
		}
		a, b := at("from"), at("to")
		mm := r3.Norm(r3.Sub(b, a))
		if mm < 5 {
			t.Skip("too short to be a scale")
		}
		pa, _ := true0.Project(a)
		pb, _ := true0.Project(b)
		got, err := camera.FromLength(camera.Length{From: pa, To: pb, MM: mm, Height: z}, camera.Known{Width: w, Height: h, F35: f35})
		if err != nil || math.Abs(got.Height()/true0.Height()-1) > 1e-9 {
			t.Fatalf("stands at %g, true %g, error %v", got.Height(), true0.Height(), err)
		}
	})
}

// The truth of lengths elsewhere on the table lies within twice the doubt about as
// often as it should, over cameras as the doubts have them (JCGM 100:2008, 6.3).
func TestFromLengthHonest(t *testing.T) {
	const w, h, f35 = 3000, 2250, 28
	rng := rand.New(rand.NewPCG(7, 5))
	in, all := 0, 0
	for range 400 {
		c := camera.Camera{
			F:  camera.FocalPixels(f35, w, h) * (1 + 0.02*rng.NormFloat64()),
			Cx: (w-1)/2.0 + 20*rng.NormFloat64(), Cy: (h-1)/2.0 + 20*rng.NormFloat64(), K1: 0.03 * rng.NormFloat64(),
			R: [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}},
		}
		const lean = 3 * math.Pi / 180
		c = c.Nudge([camera.Params]float64{5: lean * rng.NormFloat64(), 6: lean * rng.NormFloat64()})
		c.C = r3.Vec{Z: 300 + 500*rng.Float64()}
		look := func(p r3.Vec, off float64) r2.Vec {
			px, _ := c.Project(p)
			return r2.Vec{X: px.X + off*rng.NormFloat64(), Y: px.Y + off*rng.NormFloat64()}
		}
		place := func() r3.Vec { return r3.Vec{X: 120 * (2*rng.Float64() - 1), Y: 90 * (2*rng.Float64() - 1)} }
		a, b := place(), place()
		mm := r3.Norm(r3.Sub(b, a))
		if mm < 30 {
			continue
		}
		fit, err := camera.FromLength(camera.Length{From: look(a, 1), To: look(b, 1), MM: mm + 0.1*rng.NormFloat64(), U: 0.1},
			camera.Known{Width: w, Height: h, F35: f35})
		if err != nil {
			t.Fatal(err)
		}
		p, q := place(), place()
		pp, pq := look(p, 0), look(q, 0)
		seen := func(c *camera.Camera) float64 {
			u, _ := c.OnPlane(pp, 0)
			v, _ := c.OnPlane(pq, 0)
			return r3.Norm(r3.Sub(v, u))
		}
		best, uu := seen(&fit.Camera), 0.0
		for _, m := range fit.Modes() {
			d := seen(&m) - best
			uu += d * d
		}
		all++
		if math.Abs(best-r3.Norm(r3.Sub(q, p))) <= 2*math.Sqrt(uu) {
			in++
		}
	}
	if share := float64(in) / float64(all); share < 0.91 || share > 0.99 {
		t.Errorf("%d of %d lengths within twice their doubt", in, all)
	}
}

func TestFromLengthRefuses(t *testing.T) {
	known := camera.Known{Width: 3000, Height: 2250}
	for _, tt := range []struct {
		name string
		l    camera.Length
		want error
	}{
		{"one place", camera.Length{From: r2.Vec{X: 5, Y: 5}, To: r2.Vec{X: 5, Y: 6}, MM: 10}, camera.ErrNoLength},
		{"nought", camera.Length{To: r2.Vec{X: 500}}, camera.ErrNoLength},
		{"less than nought", camera.Length{To: r2.Vec{X: 500}, MM: -3}, camera.ErrNoLength},
		{"no number", camera.Length{To: r2.Vec{X: math.NaN()}, MM: 3}, camera.ErrNotFinite},
		{"huge", camera.Length{To: r2.Vec{X: 500}, MM: 1e9}, camera.ErrNotFinite},
	} {
		if _, err := camera.FromLength(tt.l, known); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}
