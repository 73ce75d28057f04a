package solidtest_test

import (
	"testing"

	"scalewright/solid"
	"scalewright/solid/solidtest"
)

// TestShapesAreSolid holds the recipes to their counts and to closed surfaces;
// the volume of the sphere is that of another kernel on the same recipe.
func TestShapesAreSolid(t *testing.T) {
	check := func(name string, m solid.Mesh, triangles int) {
		t.Helper()
		if faults := m.Check(); len(faults) > 0 || len(m.Triangles) != triangles {
			t.Errorf("%s: %d triangles, faults %v; want %d and none", name, len(m.Triangles), faults, triangles)
		}
	}
	check("sphere", solidtest.Sphere(16, 50, solid.Vec{20, 0, 0}), 8*16*16)
	check("tube", solidtest.Tube(64, 20), 4*64*20)
	for _, d := range solidtest.Drills() {
		check("drill", d, 256)
	}
	check("cube", solidtest.Cube(solid.Vec{}), 12)
}
