package main

import (
	"strings"
	"testing"

	"scalewright/solid"
	"scalewright/solid/solidtest"
)

// A plate of 3 by 20 by 40 is 3 thick where it is flat, and as thick as it is wide
// from its sides.
func TestMeshThickness(t *testing.T) {
	plate, err := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{3, 20, 40})
	if err != nil {
		t.Fatal(err)
	}
	for _, ending := range []string{".stl", ".3mf", ".obj"} {
		r := reported(t, "thickness", meshFile(t, "plate"+ending, plate))
		th := r["thickness_mm"].(map[string]any)
		// Four of the twelve triangles see 3, four 20, four 40.
		if th["min"] != 3.0 || th["p50"] != 20.0 || th["p99"] != 40.0 || r["volume_mm3"] != 2400.0 {
			t.Errorf("%s: %v", ending, r)
		}
	}
	if r := reported(t, "thickness", "--balls", meshFile(t, "plate.stl", plate)); r["thickness_mm"].(map[string]any)["p99"].(float64) > 3+1e-9 {
		t.Errorf("no ball larger than the plate is thick: %v", r)
	}
}

func TestMeshThicknessRefuses(t *testing.T) {
	open := solidtest.Cube(solid.Vec{})
	open.Triangles = open.Triangles[1:]
	name := loose(t, open)
	status, said := say(t, "mesh", "thickness", name)
	if status != exitUnread || !strings.Contains(said, "do: scalewright mesh repair "+name) {
		t.Errorf("exit status %d, said %q", status, said)
	}
}
