package formats

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode"

	"scalewright/solid"
)

// WriteOBJ writes a solid as an OBJ file of triangles over shared vertices, in
// millimetres. Nothing is rounded: coordinates are written with the digits that
// give the same float64 back, and [ReadOBJ] gives the same mesh. The name stands
// in the file's object statement.
//
// A mesh that isn't a closed solid is an error and nothing is written.
func WriteOBJ(w io.Writer, m solid.Mesh, name string) error {
	if err := m.Solid(); err != nil {
		return fmt.Errorf("write OBJ: %w", err)
	}
	// bufio keeps the first error for Flush, so writes need no check.
	b := bufio.NewWriterSize(w, 1<<16)
	b.WriteString("# millimetres\n")
	if name = oneLine(name); name != "" {
		b.WriteString("o " + name + "\n")
	}
	var buf []byte
	for _, p := range m.Vertices {
		buf = append(buf[:0], 'v')
		for _, x := range p {
			buf = strconv.AppendFloat(append(buf, ' '), x, 'g', -1, 64)
		}
		b.Write(append(buf, '\n'))
	}
	for _, t := range m.Triangles {
		buf = append(buf[:0], 'f')
		for _, v := range t {
			buf = strconv.AppendInt(append(buf, ' '), int64(v)+1, 10)
		}
		b.Write(append(buf, '\n'))
	}
	if err := b.Flush(); err != nil {
		return fmt.Errorf("write OBJ: %w", err)
	}
	return nil
}

// oneLine keeps a name from ending its line, from being continued or from
// becoming a comment.
func oneLine(name string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\\' || r == '#' {
			return '_'
		}
		return r
	}, name))
}
