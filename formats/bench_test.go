package formats_test

import (
	"bytes"
	"io"
	"testing"

	"scalewright/formats"
	"scalewright/solid"
)

// benchMesh has 102 000 triangles.
func benchMesh() solid.Mesh {
	profile := []solid.PointRZ{{R: 57.15, Z: 300}, {R: 57.15, Z: 0}}
	for i := range 200 {
		profile = append(profile, solid.PointRZ{R: 60 + 3*float64(i%2), Z: 1.5 * float64(i)})
	}
	return must(solid.Turn(profile, 252))
}

func BenchmarkWriteSTL(b *testing.B) {
	m := benchMesh()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := formats.WriteSTL(io.Discard, m, ""); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReadSTL(b *testing.B) {
	data := stlBytes(b, benchMesh())
	b.ReportAllocs()
	for b.Loop() {
		if _, err := formats.ReadSTL(bytes.NewReader(data), formats.Limits{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWrite3MF(b *testing.B) {
	model := formats.Model{
		Objects: []formats.Object{{Mesh: benchMesh()}},
		Items:   []formats.Item{{Transform: solid.Identity()}},
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := formats.Write3MF(io.Discard, model); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRead3MF(b *testing.B) {
	data := threeMF(b, formats.Model{
		Objects: []formats.Object{{Mesh: benchMesh()}},
		Items:   []formats.Item{{Transform: solid.Identity()}},
	})
	b.ReportAllocs()
	for b.Loop() {
		if _, err := read3MF(data, formats.Limits{}); err != nil {
			b.Fatal(err)
		}
	}
}
