package formats_test

import (
	"bytes"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"scalewright/formats"
	"scalewright/solid"
	"scalewright/solid/solidtest"
)

// Unions, differences and intersections, which leave edges far shorter than a step
// of single precision, are closed after they were written, read and welded by
// exact coordinates; as OBJ they come back as they were.
func TestBooleansSurviveFiles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		some := func(label string) solid.Mesh {
			coord := rapid.Float64Range(-1, 1)
			var m solid.Mesh
			switch rapid.IntRange(0, 3).Draw(t, label) {
			case 0:
				m = solidtest.Sphere(rapid.IntRange(2, 8).Draw(t, "n"), 50, solid.Vec{})
			case 1:
				m = solidtest.Tube(16, 4).Transform(solid.Scaling(0.5))
			case 2: // on a grid, so that faces, edges and corners coincide
				at := func() float64 { return float64(rapid.IntRange(-2, 2).Draw(t, "at")) }
				return solidtest.Cube(solid.Vec{at(), at(), at()}).Transform(solid.Scaling(20))
			default:
				m = box(-30, -20, -10, 30, 20, 10)
			}
			// Sometimes by a hair only, which is where slivers come from.
			by := rapid.SampledFrom([]float64{0, 1e-9, 1e-6, 1}).Draw(t, "by")
			return m.Transform(solid.Rotation(solid.Vec{1, 2, 3}, by*coord.Draw(t, "angle"))).
				Translate(solid.Vec{20 * by * coord.Draw(t, "x"), 0, 0})
		}
		a, b := some("a"), some("b")
		var k solid.Kernel
		var m solid.Mesh
		var err error
		switch rapid.IntRange(0, 2).Draw(t, "operation") {
		case 0:
			m, err = k.Union(t.Context(), a, b)
		case 1:
			m, err = k.Subtract(t.Context(), a, b)
		default:
			m, err = k.Intersect(t.Context(), a, b)
		}
		if err != nil {
			t.Fatal(err)
		}
		var file bytes.Buffer
		done, err := formats.WriteSTL(&file, m, "")
		if err != nil {
			t.Fatalf("%v (%v)", err, done)
		}
		back, err := formats.ReadSTL(&file, formats.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		if err := back.Solid(); err != nil {
			t.Fatalf("read back: %v", err)
		}
		if off := back.Volume() - m.Volume(); max(off, -off) > (a.Area()+b.Area())*2*done.Moved+1e-6 {
			t.Fatalf("volume off by %g, vertices moved %g (%v)", off, done.Moved, done)
		}
		if m.Solid() != nil {
			return // a speck turned by rounding, which only an STL sheds
		}
		file.Reset()
		if err := formats.WriteOBJ(&file, m, ""); err != nil {
			t.Fatal(err)
		}
		if same, err := formats.ReadOBJ(&file, formats.Limits{}); err != nil || !slices.Equal(same.Vertices, m.Vertices) || !slices.Equal(same.Triangles, m.Triangles) {
			t.Fatalf("as OBJ: %d vertices of %d, %v", len(same.Vertices), len(m.Vertices), err)
		}
	})
}
