package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"scalewright/solid"
	"scalewright/solid/solidtest"
)

// meshFile writes a mesh for a command to read.
func meshFile(t *testing.T, name string, m solid.Mesh) string {
	t.Helper()
	name = filepath.Join(t.TempDir(), name)
	if err := writeMesh(name, m); err != nil {
		t.Fatal(err)
	}
	return name
}

// reported runs a mesh command and returns the object it prints.
func reported(t *testing.T, args ...string) map[string]any {
	t.Helper()
	var out, talk bytes.Buffer
	if status := run(t.Context(), append([]string{"mesh"}, args...), &out, &talk); status != exitDone {
		t.Fatalf("mesh %s: exit status %d\n%s", strings.Join(args, " "), status, talk.String())
	}
	if talk.Len() > 0 {
		t.Errorf("mesh %s said %q", strings.Join(args, " "), talk.String())
	}
	var r map[string]any
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatalf("mesh %s: %v in %s", strings.Join(args, " "), err, out.String())
	}
	return r
}

// Every kind of file holds the same solid, whichever command wrote it.
func TestMeshFiles(t *testing.T) {
	for _, ending := range []string{".stl", ".3mf", ".obj", ".OBJ"} {
		from := meshFile(t, "cube"+ending, solidtest.Cube(solid.Vec{1, 2, 3}))
		r := reported(t, "info", from)
		if r["volume_mm3"] != 1.0 || r["triangles"] != 12.0 || r["closed"] != true || r["area_mm2"] != 6.0 {
			t.Errorf("%s: %v", ending, r)
		}
		half, other := filepath.Join(t.TempDir(), "half"+ending), filepath.Join(t.TempDir(), "other"+ending)
		r = reported(t, "cut", from, "--plane", "-1,0,0,-1.25", "-o", half, "--other", other)
		if r["volume_mm3"] != 0.25 {
			t.Errorf("%s: the half kept: %v", ending, r)
		}
		if r := reported(t, "info", other); r["volume_mm3"] != 0.75 || r["closed"] != true {
			t.Errorf("%s: the other half: %v", ending, r)
		}
		if r := reported(t, "section", from, "--plane", "0,0,1,3.5"); r["area_mm2"] != 1.0 || r["perimeter_mm"] != 4.0 || r["loops"] != 1.0 {
			t.Errorf("%s: the section: %v", ending, r)
		}
	}
}

// A command that fails leaves the file it would have written as it was, and
// nothing beside it.
func TestMeshLeavesWhatIsThere(t *testing.T) {
	dir := t.TempDir()
	out := filepath.Join(dir, "out.stl")
	if err := os.WriteFile(out, []byte("dear to somebody"), 0o644); err != nil {
		t.Fatal(err)
	}
	far := meshFile(t, "far.obj", solidtest.Cube(solid.Vec{}).Transform(solid.Scaling(1e39)))
	status, said := say(t, "mesh", "cut", far, "--plane", "0,0,1,5e38", "-o", out)
	if status != exitUnread || !strings.Contains(said, "do: write it as .3mf or .obj") {
		t.Errorf("exit status %d, said %q", status, said)
	}
	if text, err := os.ReadFile(out); err != nil || string(text) != "dear to somebody" {
		t.Errorf("the file holds %q, %v", text, err)
	}
	if files, err := os.ReadDir(dir); err != nil || len(files) != 1 {
		t.Errorf("%d files, %v", len(files), err)
	}
}

func TestMeshRefuses(t *testing.T) {
	dir := t.TempDir()
	open := loose(t, solid.Mesh{Vertices: []solid.Vec{{}, {1, 0, 0}, {0, 1, 0}}, Triangles: [][3]int32{{0, 1, 2}}})
	bad := filepath.Join(dir, "bad.obj")
	if err := os.WriteFile(bad, []byte("v 0 0 0\nf 1 2 3\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	cube := meshFile(t, "cube.3mf", solidtest.Cube(solid.Vec{}))
	out := filepath.Join(dir, "out.stl")
	refuses(t, out, []refusal{
		{"open", "cut|" + open + "|--plane|0,0,1,0|-o|" + out, "cannot be cut: mesh is not a closed solid"},
		{"a broken text", "info|" + bad, "OBJ line 2: names vertex 2"},
		{"a plane beside it", "cut|" + cube + "|--plane|0,0,1,5|-o|" + out, "leaves one side"},
		{"no plane", "section|" + cube + "|--plane|0,0,0,5", "has no section"},
		{"one file for both halves", "cut|" + cube + "|--plane|0,0,1,0.5|-o|" + out + "|--other|" + out, "name two files"},
	})
}

// refusal is a mesh command, its words divided by |, and what is said of it.
type refusal struct{ name, args, says string }

// refuses runs commands that must end without a result, saying what to do.
func refuses(t *testing.T, out string, list []refusal) {
	t.Helper()
	for _, c := range list {
		status, said := say(t, append([]string{"mesh"}, strings.Split(c.args, "|")...)...)
		if status != exitUnread || !strings.Contains(said, c.says) || !strings.Contains(said, "do: ") {
			t.Errorf("%s: exit status %d, said %q", c.name, status, said)
		}
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("something was written")
	}
}

// Reading a large file stops when the user does.
func TestMeshStops(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	for _, ending := range []string{".stl", ".3mf", ".obj"} {
		var said bytes.Buffer
		status := run(ctx, []string{"mesh", "info", meshFile(t, "cube"+ending, solidtest.Cube(solid.Vec{}))}, &said, &said)
		if status != exitFailed || !strings.Contains(said.String(), "stopped") {
			t.Errorf("%s: exit status %d, said %q", ending, status, said.String())
		}
	}
}
