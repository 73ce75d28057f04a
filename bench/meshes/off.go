package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"scalewright/formats"
	"scalewright/solid"
)

// readOFF reads the ASCII Object File Format as far as the meshes here use it:
// "OFF", the counts of vertices, faces and edges, the vertices, the faces; # starts a
// comment. Source: Geomview manual 1.9.4, "OFF files". It says the same as OBJ, whose
// reader divides polygons of any shape.
func readOFF(r io.Reader) (solid.Mesh, error) {
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, 1<<20)
	var words []string
	var failed error
	next := func() string {
		for len(words) == 0 && lines.Scan() {
			line, _, _ := strings.Cut(lines.Text(), "#")
			words = strings.Fields(line)
		}
		if len(words) == 0 {
			failed = io.ErrUnexpectedEOF
			return ""
		}
		w := words[0]
		words = words[1:]
		return w
	}
	if head := next(); head != "OFF" && head != "COFF" {
		return solid.Mesh{}, fmt.Errorf("begins with %q, not OFF", head)
	}
	whole := func() int {
		n, err := strconv.Atoi(next())
		failed = errors.Join(failed, err)
		return n
	}
	vertices, faces, _ := whole(), whole(), whole()
	var text strings.Builder
	for i := 0; i < vertices && failed == nil; i++ {
		fmt.Fprintf(&text, "v %s %s %s\n", next(), next(), next())
		words = nil // colours
	}
	for i := 0; i < faces && failed == nil; i++ {
		text.WriteString("f")
		for n := whole(); n > 0 && failed == nil; n-- {
			fmt.Fprintf(&text, " %d", whole()+1)
		}
		text.WriteString("\n")
		words = nil
	}
	if err := errors.Join(failed, lines.Err()); err != nil {
		return solid.Mesh{}, err
	}
	return formats.ReadOBJ(strings.NewReader(text.String()), formats.Limits{})
}
