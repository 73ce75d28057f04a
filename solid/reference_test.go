package solid_test

import (
	"math"
	"testing"

	"scalewright/solid"
)

// A wavy tube of 409 600 triangles, cut at z = 151. The volume and the section
// were found by clipping each triangle in long double (80 bits), independently
// of this package; the recipe is in the code below.
func TestCutOfWavyTube(t *testing.T) {
	const flats, stations = 512, 200
	var profile []solid.PointRZ
	for k := range stations {
		wave := math.Sin(2 * math.Pi * float64(26*k%512) / 512)
		profile = append(profile, solid.PointRZ{R: 60 + 1.5*wave, Z: 300 * float64(k) / (stations - 1)})
	}
	for k := range stations {
		profile = append(profile, solid.PointRZ{R: 57.15, Z: profile[stations-1-k].Z})
	}
	m, err := solid.Turn(profile, flats)
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Triangles) != 409_600 {
		t.Errorf("%d triangles, want 409600", len(m.Triangles))
	}
	above, below, err := solid.Cut(m, solid.PlaneZ(151))
	if err != nil {
		t.Fatal(err)
	}
	wantSolid(t, "above", above)
	wantSolid(t, "below", below)
	if got, want := above.Volume(), 156979.642272867448; !near(got, want, 1e-12) {
		t.Errorf("above holds %.15g, want %.15g", got, want)
	}
	if sum, want := above.Volume()+below.Volume(), m.Volume(); !near(sum, want, 1e-14) {
		t.Errorf("the parts hold %.17g of %.17g", sum, want)
	}
	s, err := solid.Section(m, solid.PlaneZ(151))
	if err != nil {
		t.Fatal(err)
	}
	if want := 1340.65402244515; !near(s.Area, want, 1e-12) {
		t.Errorf("section %.15g, want %.15g", s.Area, want)
	}
}

// A geodesic sphere of radius 50 over the octahedron's lattice |i|+|j|+|k| = n:
// volume and the part above z = 3 by clipping in long double, independently of
// this package; section by a general-purpose geometry library in exact arithmetic.
func TestCutOfLatticeSphere(t *testing.T) {
	const n = 256
	var soup solid.Mesh
	for octant := range 8 {
		sign := func(bit int) int { return 1 - 2*(octant>>bit&1) }
		sx, sy, sz := sign(0), sign(1), sign(2)
		place := func(a, b int) solid.Vec {
			i, j, k := float64(sx*a), float64(sy*b), float64(sz*(n-a-b))
			l := math.Sqrt(i*i + j*j + k*k)
			return solid.Vec{50 * i / l, 50 * j / l, 50 * k / l}
		}
		add := func(p, q, r solid.Vec) {
			v := int32(len(soup.Vertices))
			soup.Vertices = append(soup.Vertices, p, q, r)
			if sx*sy*sz < 0 {
				soup.Triangles = append(soup.Triangles, [3]int32{v, v + 2, v + 1})
			} else {
				soup.Triangles = append(soup.Triangles, [3]int32{v, v + 1, v + 2})
			}
		}
		for i := range n {
			for j := range n - i {
				add(place(i, j), place(i+1, j), place(i, j+1))
				if i+j < n-1 {
					add(place(i+1, j), place(i+1, j+1), place(i, j+1))
				}
			}
		}
	}
	m := soup.Weld()
	wantSolid(t, "sphere", m)
	if got, want := m.Volume(), 523586.607065717; !near(got, want, 1e-14) {
		t.Errorf("sphere %.15g, want %.15g", got, want)
	}
	above, below, err := solid.Cut(m, solid.PlaneZ(3))
	if err != nil {
		t.Fatal(err)
	}
	wantSolid(t, "above", above)
	wantSolid(t, "below", below)
	if got, want := above.Volume(), 238259.877768254127; !near(got, want, 1e-13) {
		t.Errorf("above z = 3 %.17g, want %.17g", got, want)
	}
	s, err := solid.Section(m, solid.PlaneZ(3))
	if err != nil {
		t.Fatal(err)
	}
	if !near(s.Area, 7825.61840364233, 1e-13) || !near(s.Perimeter, 313.591793922672, 1e-13) || len(s.Regions) != 1 {
		t.Errorf("section: area %.15g, perimeter %.15g, %d regions", s.Area, s.Perimeter, len(s.Regions))
	}
}
