package formats

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"scalewright/solid"
)

// WriteSTL writes a solid as binary STL, after [Round32]; what that changed is
// returned. The name goes into the header, which never begins with "solid", so
// that no reader takes the file for text. Nothing is written where the solid
// can't be rounded to one that is closed.
func WriteSTL(w io.Writer, m solid.Mesh, name string) (Rounding, error) {
	m, done, err := Round32(m)
	if err != nil {
		return done, err
	}
	b := bufio.NewWriterSize(w, 1<<16)
	var head [stlHeader + 4]byte
	copy(head[:stlHeader], "binary STL, millimetres: "+name)
	binary.LittleEndian.PutUint32(head[stlHeader:], uint32(len(m.Triangles)))
	if _, err := b.Write(head[:]); err != nil {
		return done, fmt.Errorf("write STL: %w", err)
	}
	var rec [stlRecord]byte
	for _, t := range m.Triangles {
		p, q, r := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		n := q.Sub(p).Cross(r.Sub(p)).Unit()
		for i, v := range [4]solid.Vec{n, p, q, r} {
			for k := range 3 {
				binary.LittleEndian.PutUint32(rec[12*i+4*k:], math.Float32bits(float32(v[k])))
			}
		}
		if _, err := b.Write(rec[:]); err != nil {
			return done, fmt.Errorf("write STL: %w", err)
		}
	}
	if err := b.Flush(); err != nil {
		return done, fmt.Errorf("write STL: %w", err)
	}
	return done, nil
}
