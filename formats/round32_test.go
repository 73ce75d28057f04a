package formats_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"scalewright/formats"
	"scalewright/solid"
	"scalewright/solid/solidtest"
)

func box(x0, y0, z0, x1, y1, z1 float64) solid.Mesh {
	return must(solid.Box(solid.Vec{x0, y0, z0}, solid.Vec{x1, y1, z1}))
}

// Solids that touch once rounded, or that welding would join where they touch.
func TestRound32(t *testing.T) {
	const tiny = 1e-9 // far below a step of single precision at 1 mm (6e-8)
	for _, c := range []struct {
		name    string
		mesh    solid.Mesh
		volume  float64
		parts   int
		touched func(formats.Rounding) bool
	}{
		{"cube", cube(), 1, 1, formats.Rounding.Clean},
		{"touching along an edge", solid.Join(cube(), box(1, 1, 0, 2, 2, 1)), 2, 2, func(r formats.Rounding) bool { return r.Nudged == 2 }},
		{"touching in a point", solid.Join(cube(), box(1, 1, 1, 2, 2, 2)), 2, 2, func(r formats.Rounding) bool { return r.Nudged == 1 }},
		{"touching in a face", solid.Join(cube(), box(1, 0, 0, 2, 1, 1)), 2, 2, func(r formats.Rounding) bool { return r.Nudged == 4 }},
		{"a hair apart", solid.Join(cube(), box(1+tiny, 1, 0, 2, 2, 1)), 2, 2, func(r formats.Rounding) bool { return r.Nudged == 2 }},
		{"a sliver alone", solid.Join(cube(), box(5, 0, 0, 5+tiny, 1, 1)), 1, 1, func(r formats.Rounding) bool { return r.Collapsed == 8 && r.Folded+r.Vanished > 0 }},
		{"a notch too narrow", must(solid.Prism(solid.Region{Outer: []solid.Point{
			{0, 0}, {2, 0}, {2, 1}, {1 + tiny, 1}, {1 + tiny, 0.5}, {1, 0.5}, {1, 1}, {0, 1},
		}}, 0, 1)), 2, 1, func(r formats.Rounding) bool { return !r.Clean() }},
		{"empty", solid.Mesh{}, 0, 0, formats.Rounding.Clean},
	} {
		if err := c.mesh.Solid(); err != nil {
			t.Fatalf("%s before: %v", c.name, err)
		}
		m, done, err := formats.Round32(c.mesh)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		w := m.Weld()
		if err := w.Solid(); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		for _, p := range w.Vertices {
			for _, x := range p {
				if x != float64(float32(x)) {
					t.Errorf("%s: %v is not in single precision", c.name, p)
				}
			}
		}
		if !c.touched(done) {
			t.Errorf("%s: %v", c.name, done)
		}
		if got := len(w.Components()); got != c.parts {
			t.Errorf("%s: %d components, want %d", c.name, got, c.parts)
		}
		if math.Abs(w.Volume()-c.volume) > 1e-6 || done.Moved > 1e-6 {
			t.Errorf("%s: volume %v, want %v; %v", c.name, w.Volume(), c.volume, done)
		}
	}
}

// A coarse ball inside a fine one, all its corners on the other's: the cavity must
// shrink from the outside, not pass through it. Either may come first.
func TestRound32OfTouchingCavity(t *testing.T) {
	outer, inner := solidtest.Sphere(4, 50, solid.Vec{}), solidtest.Sphere(2, 50, solid.Vec{})
	want := outer.Volume() - inner.Volume()
	inner = solid.Mesh{Vertices: inner.Vertices, Triangles: slices.Clone(inner.Triangles)}
	for i, c := range inner.Triangles {
		inner.Triangles[i] = [3]int32{c[0], c[2], c[1]}
	}
	for _, m := range []solid.Mesh{solid.Join(outer, inner), solid.Join(inner, outer)} {
		out, done, err := formats.Round32(m)
		if err != nil {
			t.Fatal(err)
		}
		if done.Nudged != 18 || math.Abs(out.Volume()-want) > 0.1 || len(out.Components()) != 2 {
			t.Errorf("volume %v, want %v, in %d components (%v)", out.Volume(), want, len(out.Components()), done)
		}
	}
}

// A corner on the long side of a thin triangle falls onto it when rounded: the
// triangle has no area left and its long edge must be swapped.
func TestRound32SwapsFlatTriangles(t *testing.T) {
	m := must(solid.Prism(solid.Region{Outer: []solid.Point{
		{1000, 0}, {1003, 0}, {1003, 1}, {1002, 1 - 1e-9}, {1001, 1 - 1e-9}, {1000, 1},
	}}, 0, 1))
	out, done, err := formats.Round32(m)
	if err != nil {
		t.Fatal(err)
	}
	if err := out.Solid(); err != nil || math.Abs(out.Volume()-3) > 1e-6 {
		t.Errorf("volume %v, %v (%v)", out.Volume(), err, done)
	}
}

// What a boolean may leave where two surfaces all but coincide: a speck that is
// closed but turned by rounding. A turned solid of any thickness is refused, see
// below.
func TestRound32DropsSpecks(t *testing.T) {
	const step = 0x1p-18 // of single precision at 50
	speck := solid.Mesh{
		Vertices:  []solid.Vec{{50, 0, 0}, {50 + step, 0, 0}, {50, 1e-7, 0}, {50, 0, 1e-7}},
		Triangles: [][3]int32{{0, 1, 2}, {0, 3, 1}, {1, 3, 2}, {0, 2, 3}},
	}
	if v := speck.Volume(); v >= 0 {
		t.Fatalf("the speck holds %v", v)
	}
	out, done, err := formats.Round32(solid.Join(cube(), speck))
	if err != nil || done.Vanished != 1 || len(out.Triangles) != 12 {
		t.Errorf("%d triangles, %v (%v)", len(out.Triangles), err, done)
	}
}

func TestRound32Refuses(t *testing.T) {
	far := cube().Translate(solid.Vec{1e39, 0, 0})
	var value *solid.ValueError
	if _, _, err := formats.Round32(far); !errors.As(err, &value) {
		t.Errorf("beyond single precision: %v", err)
	}
	open := cube()
	open.Triangles = open.Triangles[:11]
	var fault *solid.NotSolidError
	if _, _, err := formats.Round32(open); !errors.As(err, &fault) {
		t.Errorf("open: %v", err)
	}
	inward := cube()
	for i, f := range inward.Triangles {
		inward.Triangles[i] = [3]int32{f[0], f[2], f[1]}
	}
	if _, _, err := formats.Round32(inward); !errors.As(err, &fault) {
		t.Errorf("inside out: %v", err)
	}
}
