package server

import (
	"bytes"
	"context"
	"encoding/binary"
	"math"

	"scalewright/job"
	"scalewright/solid"
)

func solids(ctx context.Context, d *desk, in seenIn) (Solids, error) {
	s, asOf, err := d.see(ctx, job.Settled)
	if err != nil {
		return Solids{}, err
	}
	r, p := s.result, s.prepared()
	out := Solids{AsOf: asOf, Pieces: []SolidLine{}}
	moves := s.apart()
	for i, c := range r.Carved {
		if c.Solid.Empty() {
			continue
		}
		piece := r.Division.Pieces[i]
		b := c.Solid.Bounds()
		one := SolidLine{
			ID: piece.ID.String(), Name: piece.Name, Tint: string(p.Tint(i)), Triangles: len(c.Solid.Triangles),
			Span: Stretch{hundredth(b.Min[2]), hundredth(b.Max[2])},
		}
		for k, x := range moves[i] {
			one.Apart[k] = hundredth(x)
		}
		out.Pieces = append(out.Pieces, one)
	}
	return out, nil
}

// meshBytes is a solid for the page: the letters SWM1, the numbers of vertices and
// triangles (uint32), x y z of each vertex (float32, mm in the build's frame), three
// indices of each triangle (uint32); little endian.
func meshBytes(m solid.Mesh) []byte {
	var b bytes.Buffer
	b.Grow(12 + 12*len(m.Vertices) + 12*len(m.Triangles))
	b.WriteString("SWM1")
	word := func(x uint32) { b.Write(binary.LittleEndian.AppendUint32(nil, x)) }
	word(uint32(len(m.Vertices)))
	word(uint32(len(m.Triangles)))
	for _, v := range m.Vertices {
		for _, x := range v {
			word(math.Float32bits(float32(x)))
		}
	}
	for _, t := range m.Triangles {
		for _, k := range t {
			word(uint32(k))
		}
	}
	return b.Bytes()
}

// solidOf is the mesh of one piece.
func solidOf(ctx context.Context, d *desk, name string) ([]byte, error) {
	s, _, err := d.see(ctx, job.Settled)
	if err != nil {
		return nil, err
	}
	i := pieceAt(s.result, name)
	if i < 0 || i >= len(s.result.Carved) || s.result.Carved[i].Solid.Empty() {
		return nil, notFound("there is no solid of that name", "the list of solids has them")
	}
	return meshBytes(s.result.Carved[i].Solid), nil
}
