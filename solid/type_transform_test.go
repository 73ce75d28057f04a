package solid_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
)

func ExampleCut() {
	shaft, err := solid.Turn([]solid.PointRZ{{R: 0, Z: 0}, {R: 10, Z: 0}, {R: 10, Z: 50}, {R: 0, Z: 50}}, 4)
	if err != nil {
		fmt.Println(err)
		return
	}
	above, below, err := solid.Cut(shaft, solid.PlaneZ(20))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f + %.0f mm³\n", above.Volume(), below.Volume())
	// Output: 6000 + 4000 mm³
}

func ExamplePrism() {
	plate, err := solid.Prism(solid.Region{
		Outer: []solid.Point{{0, 0}, {40, 0}, {40, 30}, {0, 30}},
		Holes: [][]solid.Point{{{10, 10}, {10, 20}, {20, 20}, {20, 10}}},
	}, 0, 5)
	if err != nil {
		fmt.Println(err)
		return
	}
	genus, err := plate.Genus()
	fmt.Println(plate.Volume(), genus, err)
	// Output: 5500 1 <nil>
}

func TestTransforms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-3, 3)
		vec := func(label string) solid.Vec {
			return solid.Vec{coord.Draw(t, label+" x"), coord.Draw(t, label+" y"), coord.Draw(t, label+" z")}
		}
		m := someSolid(t)
		axis, normal := vec("axis"), vec("normal")
		if axis.Length() < 0.1 || normal.Length() < 0.1 {
			t.Skip("no direction")
		}
		for name, move := range map[string]solid.Transform{
			"rotation":    solid.Rotation(axis, coord.Draw(t, "angle")),
			"translation": solid.Translation(vec("by")),
			"reflection":  solid.Reflection(solid.Plane{Normal: normal, Offset: coord.Draw(t, "offset")}),
			"quarter":     solid.QuarterTurns(rapid.IntRange(0, 2).Draw(t, "k"), rapid.IntRange(-5, 5).Draw(t, "q")),
		} {
			// Triangles stay anticlockwise seen from outside, so the volume stays.
			got := m.Transform(move)
			if !near(got.Volume(), m.Volume(), 1e-9) || !near(got.Area(), m.Area(), 1e-9) {
				t.Fatalf("%s: volume %v, was %v", name, got.Volume(), m.Volume())
			}
			back, ok := move.Inverse()
			if !ok {
				t.Fatalf("%s has no inverse", name)
			}
			p := vec("p")
			if d := move.Then(back).Apply(p).Sub(p).Length(); d > 1e-12 {
				t.Fatalf("%s and back moves %v by %g", name, p, d)
			}
		}
	})
	// Anticlockwise seen with the axis pointing at the eye: x turns to y about z.
	if p := solid.Rotation(solid.Vec{0, 0, 5}, math.Pi/2).Apply(solid.Vec{1, 0, 0}); p.Sub(solid.Vec{0, 1, 0}).Length() > 1e-15 {
		t.Errorf("x turned about z is %v", p)
	}
	if p := solid.QuarterTurns(2, 1).Apply(solid.Vec{1, 0, 0}); p != (solid.Vec{0, 1, 0}) {
		t.Errorf("x turned a quarter about z is %v", p)
	}
	if p := solid.Reflection(solid.PlaneZ(3)).Apply(solid.Vec{1, 2, 5}); p != (solid.Vec{1, 2, 1}) {
		t.Errorf("reflected: %v", p)
	}
	if _, ok := (solid.Transform{}).Inverse(); ok {
		t.Error("the zero transform has an inverse")
	}
	if solid.Rotation(solid.Vec{}, 1) != solid.Identity() || solid.Reflection(solid.Plane{}) != solid.Identity() {
		t.Error("without a direction something moves")
	}
}

func TestFrames(t *testing.T) {
	if f := solid.PlaneZ(7).Frame(); f != (solid.Frame{Origin: solid.Vec{0, 0, 7}, U: solid.Vec{1, 0, 0}, V: solid.Vec{0, 1, 0}, N: solid.Vec{0, 0, 1}}) {
		t.Errorf("frame of z = 7: %v", f)
	}
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-100, 100)
		p := solid.Plane{Normal: solid.Vec{coord.Draw(t, "x"), coord.Draw(t, "y"), coord.Draw(t, "z")}, Offset: coord.Draw(t, "d")}
		if p.Normal.Length() < 1e-2 {
			t.Skip("no direction")
		}
		f := p.Frame()
		if d := f.U.Cross(f.V).Sub(f.N).Length(); d > 1e-12 {
			t.Fatalf("U × V is off N by %g", d)
		}
		q := solid.Point{coord.Draw(t, "u"), coord.Draw(t, "v")}
		got := f.Flatten(f.Lift(q))
		if math.Hypot(got[0]-q[0], got[1]-q[1]) > 1e-9 {
			t.Fatalf("%v lifted and flattened is %v", q, got)
		}
	})
}

func TestZeroValues(t *testing.T) {
	var m solid.Mesh
	if !m.Empty() || !m.Closed() || m.Volume() != 0 || m.Area() != 0 || m.Bounds() != (solid.Bounds{}) || len(m.Components()) != 0 {
		t.Error("the zero mesh is not the empty solid")
	}
	if m.Centroid() != (solid.Vec{}) || m.Euler() != 0 || !m.Weld().Empty() || !solid.Join().Empty() {
		t.Error("the zero mesh is not the empty solid")
	}
	if s, err := solid.Section(m, solid.PlaneZ(0)); err != nil || s.Area != 0 {
		t.Errorf("Section = %v, %v", s, err)
	}
	if l, err := solid.Sections(m, []float64{1}); err != nil || len(l) != 1 || l[0].Area != 0 {
		t.Errorf("Sections = %v, %v", l, err)
	}
	if _, err := solid.Section(m, solid.Plane{}); err == nil {
		t.Error("the zero plane is taken")
	}
}

func TestPrismRefuses(t *testing.T) {
	square := solid.Region{Outer: []solid.Point{{0, 0}, {1, 0}, {1, 1}, {0, 1}}}
	for _, z := range [][2]float64{{0, 0}, {1, 0}, {math.NaN(), 1}, {0, math.NaN()}, {0, math.Inf(1)}, {math.Inf(-1), 0}} {
		if _, err := solid.Prism(square, z[0], z[1]); err == nil {
			t.Errorf("Prism from %v to %v is made", z[0], z[1])
		}
	}
	if _, err := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{1, 0, 1}); err == nil {
		t.Error("a box without width is made")
	}
	if _, err := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{1, -1, 1}); err == nil {
		t.Error("a box inside out is made")
	}
}
