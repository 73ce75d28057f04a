package formats

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"

	"scalewright/solid"
)

const (
	stlHeader = 80 // bytes of free text
	stlRecord = 50 // normal, three corners, two bytes of attributes
)

// ReadSTL reads a binary or ASCII file and welds its vertices by exact
// coordinates. Normals and attributes are ignored: the order of the corners says
// where outside is. Several solids in an ASCII file are read as one mesh.
//
// A file is taken for ASCII if it begins with "solid", goes on with text that
// holds a facet or an end, and has no zero byte there: binary files whose header
// begins with "solid" exist.
func ReadSTL(r io.Reader, limits Limits) (solid.Mesh, error) {
	limits = limits.orDefault()
	b := bufio.NewReaderSize(r, 1<<16)
	head, err := b.Peek(1024)
	if err != nil && !errors.Is(err, io.EOF) {
		return solid.Mesh{}, fmt.Errorf("read STL: %w", err)
	}
	if len(head) == 0 {
		return solid.Mesh{}, &SyntaxError{Format: "STL", What: "file is empty"}
	}
	var m solid.Mesh
	if looksASCII(head) {
		m, err = readASCII(b, limits)
	} else {
		m, err = readBinary(b, limits)
	}
	if err != nil {
		return solid.Mesh{}, err
	}
	return m.Weld(), nil
}

func looksASCII(head []byte) bool {
	text := bytes.ToLower(bytes.TrimLeft(head, " \t\r\n"))
	return bytes.HasPrefix(text, []byte("solid")) && !bytes.ContainsRune(text, 0) &&
		(bytes.Contains(text, []byte("facet")) || bytes.Contains(text, []byte("endsolid")))
}

func readBinary(r io.Reader, limits Limits) (solid.Mesh, error) {
	var head [stlHeader + 4]byte
	if n, err := io.ReadFull(r, head[:]); err != nil {
		return solid.Mesh{}, readFault(err, fmt.Sprintf("ends after %d bytes, within the header", n), 0)
	}
	count := binary.LittleEndian.Uint32(head[stlHeader:])
	if int64(count) > int64(limits.Triangles) {
		return solid.Mesh{}, &LimitError{"STL", "triangles", int64(limits.Triangles)}
	}
	var m solid.Mesh
	var rec [stlRecord]byte
	for i := range int64(count) {
		at := stlHeader + 4 + i*stlRecord
		// Memory grows with what is read, not with what the count promises.
		if _, err := io.ReadFull(r, rec[:]); err != nil {
			return solid.Mesh{}, readFault(err, fmt.Sprintf("ends in triangle %d of %d", i+1, count), at)
		}
		for c := range 3 {
			var p solid.Vec
			for k := range 3 {
				x := math.Float32frombits(binary.LittleEndian.Uint32(rec[12+12*c+4*k:]))
				p[k] = float64(x)
				if p[k]-p[k] != 0 {
					return solid.Mesh{}, &SyntaxError{
						Format: "STL", Offset: at, What: fmt.Sprintf("triangle %d has a coordinate that is not finite", i+1),
					}
				}
			}
			m.Vertices = append(m.Vertices, p)
		}
		v := int32(3 * i)
		m.Triangles = append(m.Triangles, [3]int32{v, v + 1, v + 2})
	}
	switch n, err := r.Read(rec[:1]); {
	case n > 0:
		return solid.Mesh{}, &SyntaxError{
			Format: "STL", Offset: stlHeader + 4 + int64(count)*stlRecord,
			What: fmt.Sprintf("goes on after the %d triangles its header counts", count),
		}
	case err != nil && !errors.Is(err, io.EOF):
		return solid.Mesh{}, fmt.Errorf("read STL: %w", err)
	}
	return m, nil
}

// readFault tells a file that is too short from a disk that fails.
func readFault(err error, what string, at int64) error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return &SyntaxError{Format: "STL", Offset: at, What: what}
	}
	return fmt.Errorf("read STL: %w", err)
}
