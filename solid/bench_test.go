package solid_test

import (
	"math"
	"testing"

	"scalewright/solid"
)

// benchProfile is a wavy tube of 100 stations outside and 100 inside: with 256
// flats 102 400 triangles.
func benchProfile() []solid.PointRZ {
	const stations = 100
	var p []solid.PointRZ
	for i := range stations {
		z := 3 * float64(i)
		p = append(p, solid.PointRZ{R: 60 + 1.5*math.Sin(z/10), Z: z})
	}
	for i := range stations {
		p = append(p, solid.PointRZ{R: 57.15, Z: 3 * float64(stations-1-i)})
	}
	return p
}

func BenchmarkTurn(b *testing.B) {
	p := benchProfile()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := solid.Turn(p, 256); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCheck(b *testing.B) {
	m := must(solid.Turn(benchProfile(), 256))
	b.ReportAllocs()
	for b.Loop() {
		if !m.Closed() {
			b.Fatal("not closed")
		}
	}
}

func BenchmarkCut(b *testing.B) {
	m := must(solid.Turn(benchProfile(), 256))
	for _, c := range []struct {
		name  string
		plane solid.Plane
	}{
		{"across", solid.PlaneZ(151)},
		{"oblique", solid.Plane{Normal: solid.Vec{1, 2, 3}, Offset: 450}},
		{"vertices", solid.PlaneZ(150)},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, _, err := solid.Cut(m, c.plane); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkSections(b *testing.B) {
	m := must(solid.Turn(benchProfile(), 256))
	var stations []float64
	for z := 0.1; z < 297; z += 0.2 {
		stations = append(stations, z)
	}
	b.ReportAllocs()
	for b.Loop() {
		err := solid.WalkSections(m, stations, func(int, solid.Layer) bool { return true })
		if err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTriangulateAnnulus(b *testing.B) {
	var r solid.Region
	var hole []solid.Point
	for k := range 512 {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / 512)
		r.Outer = append(r.Outer, solid.Point{60 * cos, 60 * sin})
		hole = append(hole, solid.Point{57 * cos, -57 * sin})
	}
	r.Holes = [][]solid.Point{hole}
	b.ReportAllocs()
	for b.Loop() {
		r.Triangulate()
	}
}
