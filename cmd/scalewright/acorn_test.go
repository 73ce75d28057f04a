package main

import (
	"bytes"
	"math"
	"os"
	"testing"

	"scalewright/formats"
	"scalewright/solid"
)

// acorn is the finial of examples/acorn, mm of the reference: a foot with four
// sides that turns round, a cup, a nut with a tip, and two leaves.
func acorn(t *testing.T) solid.Mesh {
	t.Helper()
	must := func(m solid.Mesh, err error) solid.Mesh {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	ball := func(x, y, z, a, b, c, lean float64) solid.Mesh {
		m := must(solid.Sphere(solid.Vec{}, 1, 11))
		m = m.Transform(solid.Transform{M: [3][3]float64{{a, 0, 0}, {0, b, 0}, {0, 0, c}}})
		return m.Transform(solid.Rotation(solid.Vec{0, 1, 0}, lean)).Translate(solid.Vec{x, y, z})
	}
	// A section of the foot: a square whose corners are rounded more and more.
	section := func(z, half, round float64) solid.LoftSection {
		var loop []solid.Point
		for k := range 32 {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / 32)
			square := half / max(math.Abs(sin), math.Abs(cos))
			r := square + round*(half-square)
			loop = append(loop, solid.Point{r * cos, r * sin})
		}
		return solid.LoftSection{Station: z, Loop: loop}
	}
	foot := must(solid.Loft([]solid.LoftSection{section(0, 9, 0.1), section(4, 9, 0.1), section(10, 7, 1), section(16, 9, 1)}))
	return must(solid.Kernel{}.Union(
		t.Context(), foot,
		ball(0, 0, 20, 12.5, 12.5, 6.5, 0),
		ball(0, 0, 27, 10.5, 10.5, 17.5, 0),
		ball(0, 0, 44.5, 2.2, 2.2, 2.5, 0),
		ball(10.5, 0, 11, 6.5, 2.4, 3.2, -0.6),
		ball(-10.5, 0, 11, 6.5, 2.4, 3.2, 0.6),
	))
}

// The mesh of examples/acorn is what the kernel makes of the code above.
func TestAcornIsWhatTheKernelMakes(t *testing.T) {
	var file bytes.Buffer
	if _, err := formats.WriteSTL(&file, acorn(t), "acorn"); err != nil {
		t.Fatal(err)
	}
	const name = "../../examples/acorn/models/acorn.stl"
	if *update {
		if err := os.WriteFile(name, file.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if len(have) > 300_000 {
		t.Errorf("the mesh takes %d bytes", len(have))
	}
	if !bytes.Equal(have, file.Bytes()) {
		t.Error("the mesh in examples/acorn is not the one made here; look at both, then run go test ./cmd/scalewright -run Acorn -update")
	}
}
