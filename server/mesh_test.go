package server_test

import (
	"encoding/binary"
	"math"
	"testing"
)

// meshAsRead is a mesh read by the words of the API alone.
type meshAsRead struct {
	vertices  [][3]float32
	triangles [][3]uint32
}

func readMesh(t *testing.T, data []byte) (m meshAsRead) {
	t.Helper()
	word := func(i int) uint32 { return binary.LittleEndian.Uint32(data[4+4*i:]) }
	vertices, triangles := int(word(0)), int(word(1))
	if len(data) != 12+12*vertices+12*triangles {
		t.Fatalf("%d bytes for %d vertices and %d triangles", len(data), vertices, triangles)
	}
	at := 2
	for range vertices {
		m.vertices = append(m.vertices, [3]float32{math.Float32frombits(word(at)), math.Float32frombits(word(at + 1)), math.Float32frombits(word(at + 2))})
		at += 3
	}
	for range triangles {
		m.triangles = append(m.triangles, [3]uint32{word(at), word(at + 1), word(at + 2)})
		at += 3
	}
	return m
}

func (m meshAsRead) stations() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range m.vertices {
		low, high = min(low, float64(v[2])), max(high, float64(v[2]))
	}
	return low, high
}
