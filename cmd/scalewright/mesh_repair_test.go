package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"scalewright/solid"
	"scalewright/solid/solidtest"
)

// loose writes triangles as a file that other programs might have made.
func loose(t *testing.T, m solid.Mesh) string {
	t.Helper()
	var b strings.Builder
	for _, p := range m.Vertices {
		fmt.Fprintln(&b, "v", p[0], p[1], p[2])
	}
	for _, c := range m.Triangles {
		fmt.Fprintln(&b, "f", c[0]+1, c[1]+1, c[2]+1)
	}
	name := filepath.Join(t.TempDir(), "loose.obj")
	if err := os.WriteFile(name, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

func TestMeshRepair(t *testing.T) {
	ball := solidtest.Sphere(8, 50, solid.Vec{})
	whole := ball.Volume()
	holed := solid.Mesh{Vertices: ball.Vertices, Triangles: ball.Triangles[1:]}
	holed.Triangles[0][0], holed.Triangles[0][1] = holed.Triangles[0][1], holed.Triangles[0][0]
	name := loose(t, holed)
	out := filepath.Join(t.TempDir(), "whole.stl")
	r := reported(t, "repair", name, "-o", out)
	kinds := map[string]float64{}
	for _, c := range r["changes"].([]any) {
		change := c.(map[string]any)
		kinds[change["kind"].(string)] = change["count"].(float64)
	}
	if kinds["hole closed"] != 1 || kinds["triangle flipped"] != 1 || r["closed"] != true {
		t.Errorf("%v", r)
	}
	if v := reported(t, "info", out)["volume_mm3"].(float64); v < 0.999*whole || v > 1.001*whole {
		t.Errorf("volume %v of %v", v, whole)
	}
	// What is sound comes back as it is.
	if r := reported(t, "repair", out, "-o", out); len(r["changes"].([]any)) != 0 {
		t.Errorf("repaired again: %v", r["changes"])
	}
}

func TestMeshRepairRefuses(t *testing.T) {
	sheet := loose(t, solid.Mesh{Vertices: []solid.Vec{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 0}}, Triangles: [][3]int32{{0, 1, 2}, {1, 3, 2}}})
	out := filepath.Join(t.TempDir(), "out.stl")
	status, said := say(t, "mesh", "repair", sheet, "-o", out)
	if status != exitBlocked || !strings.Contains(said, "mesh can't be repaired") || !strings.Contains(said, "do: ") {
		t.Errorf("a sheet: exit status %d, said %q", status, said)
	}
	status, said = say(t, "mesh", "repair", sheet, "-o", out, "--near", "-1")
	if status != exitUnread || !strings.Contains(said, "Near") {
		t.Errorf("less than no distance: exit status %d, said %q", status, said)
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("something was written")
	}
}
