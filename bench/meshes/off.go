package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"scalewright/solid"
)

// readOFF reads the ASCII Object File Format as far as the meshes here use it:
// "OFF", the counts of vertices, faces and edges, the vertices, the faces (made
// fans of); # starts a comment. Source: Geomview manual 1.9.4, "OFF files".
func readOFF(r io.Reader) (solid.Mesh, error) {
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, 1<<20)
	var words []string
	next := func() string {
		for len(words) == 0 && lines.Scan() {
			line, _, _ := strings.Cut(lines.Text(), "#")
			words = strings.Fields(line)
		}
		if len(words) == 0 {
			return ""
		}
		w := words[0]
		words = words[1:]
		return w
	}
	if head := next(); head != "OFF" && head != "COFF" {
		return solid.Mesh{}, fmt.Errorf("begins with %q, not OFF", head)
	}
	var failed error
	whole := func() int {
		n, err := strconv.Atoi(next())
		failed = errors.Join(failed, err)
		return n
	}
	vertices, faces, _ := whole(), whole(), whole()
	var m solid.Mesh
	for i := 0; i < vertices && failed == nil; i++ {
		var p solid.Vec
		for k := range 3 {
			x, err := strconv.ParseFloat(next(), 64)
			p[k], failed = x, errors.Join(failed, err)
		}
		words = nil // colours
		m.Vertices = append(m.Vertices, p)
	}
	for i := 0; i < faces && failed == nil; i++ {
		corners := make([]int32, 0, 4)
		for n := whole(); n > 0 && failed == nil; n-- {
			corners = append(corners, int32(whole()))
		}
		words = nil
		for j := 1; j+1 < len(corners); j++ {
			m.Triangles = append(m.Triangles, [3]int32{corners[0], corners[j], corners[j+1]})
		}
	}
	return m, errors.Join(failed, lines.Err())
}
