package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"scalewright/solid"
	"scalewright/solid/solidtest"
)

// The commands of docs/mesh.md work, one after the other, on a ball and a drill.
func TestMeshDocs(t *testing.T) {
	text, err := os.ReadFile("../../docs/mesh.md")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	for name, m := range map[string]solid.Mesh{
		"ball.stl":  solidtest.Sphere(8, 50, solid.Vec{}),
		"drill.stl": solidtest.Drills()[0],
	} {
		if err := writeMesh(name, m); err != nil {
			t.Fatal(err)
		}
	}
	ran := 0
	for line := range strings.Lines(string(text)) {
		command, ok := strings.CutPrefix(line, "    scalewright ")
		if !ok {
			continue
		}
		command, _, _ = strings.Cut(command, "#")
		status, said := say(t, strings.Fields(command)...)
		if status != exitDone {
			t.Errorf("scalewright %s: exit status %d\n%s", command, status, said)
		}
		ran++
	}
	if ran < 3 {
		t.Errorf("%d commands", ran)
	}
	if left, err := filepath.Glob(".*.new"); err != nil || len(left) > 0 {
		t.Errorf("left beside the results: %v, %v", left, err)
	}
}
