package measure

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// plainMat is a photograph straight down on a mat of 400 by 300 mm with grain and a
// grid of 10 mm, light falling off to one side, on which things lie.
func plainMat(things func(mm r2.Vec) (tone float64, there bool)) ground {
	return grainedMat(0, things)
}

// grainedMat is such a mat of one grain or another.
func grainedMat(grain uint64, things func(mm r2.Vec) (tone float64, there bool)) ground {
	return matOf(grain, []r2.Vec{{X: 5, Y: 5}, {X: 994, Y: 5}, {X: 994, Y: 744}, {X: 5, Y: 744}}, things)
}

// matWithin is such a mat whose grid was found within a region, pixels.
func matWithin(region []r2.Vec, things func(mm r2.Vec) (tone float64, there bool)) ground {
	return matOf(0, region, things)
}

// matOf is such a mat of one grain or another, within a region.
func matOf(grain uint64, region []r2.Vec, things func(mm r2.Vec) (tone float64, there bool)) ground {
	const w, h = 1000, 750
	cam := overMat()
	rng := rand.New(rand.NewPCG(5, 6+grain))
	p := &picture{w: w, h: h, rgb: make([]uint8, 3*w*h)}
	for i := range w * h {
		at, _ := cam.OnPlane(r2.Vec{X: float64(i % w), Y: float64(i / w)}, 0)
		mm := r2.Vec{X: at.X, Y: at.Y}
		tone, there := things(mm)
		if !there {
			tone = 90 * (1 - 0.1*mm.X/400)
			if math.Abs(mm.X-10*math.Round(mm.X/10)) < 0.3 || math.Abs(mm.Y-10*math.Round(mm.Y/10)) < 0.3 {
				tone *= 2
			}
			tone *= 1 + 0.09*rng.NormFloat64()
		}
		for c := range 3 {
			p.rgb[3*i+c] = uint8(min(255, max(0, tone+rng.NormFloat64())))
		}
	}
	m, err := findGround(context.Background(), p, cam, region, [2]float64{10, 10})
	if err != nil {
		panic(err)
	}
	return m
}

// overlap is the area that a mask and a thing share over what they cover together.
func (m ground) overlap(g grid, thing func(mm r2.Vec) bool) float64 {
	both, any := 0.0, 0.0
	for i, on := range g.on {
		at, _ := m.cam.OnPlane(m.reduced.full(float64(i%g.w), float64(i/g.w)), 0)
		in := thing(r2.Vec{X: at.X, Y: at.Y})
		if on && in {
			both++
		}
		if on || in {
			any++
		}
	}
	return both / any
}

// A thing of the mat's own grey is found by the lines that it hides and drawn by the
// grain that it lacks; a shadow beside it, where lines still show, is no part of it.
func TestThingOfTheMatsColour(t *testing.T) {
	body := func(mm r2.Vec) bool {
		return math.Abs(mm.X-200) < 60 && math.Abs(mm.Y-150) < 14+8*math.Cos(mm.X/20)
	}
	// Grain is read over five pixels, 2 mm here: by it alone the border of a body 30 mm
	// wide is known to a millimetre to either side.
	for tone, least := range map[float64]float64{85: 0.9, 40: 0.97, 200: 0.97} {
		m := plainMat(func(mm r2.Vec) (float64, bool) { return tone, body(mm) })
		objects := m.objects()
		if len(objects) == 0 {
			t.Fatalf("tone %g: nothing found", tone)
		}
		cut, ok, err := m.cut(t.Context(), objects[0])
		if !ok || err != nil {
			t.Fatalf("tone %g: nothing cut, error %v", tone, err)
		}
		if iou := m.overlap(cut.mask, body); iou < least {
			t.Errorf("tone %g: overlap %.3f", tone, iou)
		}
	}
}

// Nothing on the mat is nothing found.
func TestBareMat(t *testing.T) {
	m := plainMat(func(r2.Vec) (float64, bool) { return 0, false })
	if objects := m.objects(); len(objects) > 0 {
		t.Errorf("%d objects on a bare mat", len(objects))
	}
}
