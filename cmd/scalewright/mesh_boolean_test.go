package main

import (
	"path/filepath"
	"strings"
	"testing"

	"scalewright/solid"
	"scalewright/solid/solidtest"
)

// Three cubes in a row that overlap by half, in every kind of file.
func TestMeshBooleans(t *testing.T) {
	var names []string
	for i, ending := range []string{".stl", ".3mf", ".obj"} {
		names = append(names, meshFile(t, "cube"+ending, solidtest.Cube(solid.Vec{float64(i) / 2, 0, 0})))
	}
	for _, c := range []struct {
		command    string
		files      []string
		volume     float64
		components float64
	}{
		{"union", names, 2, 1},
		{"subtract", names, 0.5, 1},
		{"subtract", []string{names[1], names[0], names[2]}, 0, 0},
		{"intersect", names[:2], 0.5, 1},
		{"intersect", names, 0, 0},
		{"union", []string{names[0], names[0]}, 1, 1},
	} {
		for _, ending := range []string{".stl", ".3mf", ".obj"} {
			out := filepath.Join(t.TempDir(), "out"+ending)
			status, said := say(t, append([]string{"mesh", c.command, "-o", out}, c.files...)...)
			if status != exitDone || (c.volume == 0) != strings.Contains(said, "nothing is left") {
				t.Fatalf("%s to %s: exit status %d, said %q", c.command, ending, status, said)
			}
			r := reported(t, "info", out)
			if r["volume_mm3"] != c.volume || r["components"] != c.components || r["closed"] != true {
				t.Errorf("%s of %d to %s: %v", c.command, len(c.files), ending, r)
			}
		}
	}
}

func TestMeshBooleansRefuse(t *testing.T) {
	open := loose(t, solid.Mesh{Vertices: []solid.Vec{{}, {1, 0, 0}, {0, 1, 0}}, Triangles: [][3]int32{{0, 1, 2}}})
	cube := meshFile(t, "cube.stl", solidtest.Cube(solid.Vec{}))
	out := filepath.Join(t.TempDir(), "out.stl")
	refuses(t, out, []refusal{
		{"one file", "union|" + cube + "|-o|" + out, "do: name two mesh files or more"},
		{"an open mesh", "subtract|" + cube + "|" + open + "|-o|" + out, open + " cannot be used: mesh is not a closed solid"},
		{"its remedy", "subtract|" + cube + "|" + open + "|-o|" + out, "do: scalewright mesh repair " + open + " -o FILE"},
		{"a strange result", "intersect|" + cube + "|" + cube + "|-o|" + out + ".doc", "do: name a file that ends in .stl, .3mf or .obj"},
		{"no result", "intersect|" + cube + "|" + cube, "do: scalewright --help"},
	})
}
