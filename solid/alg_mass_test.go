package solid_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
)

// A polygon of n corners on a circle has (n/2π)·sin(2π/n) of its area, and a
// body of n flats that part of the volume of the true body of revolution. Source
// of the closed forms: textbook formulas, for example Bronshtein et al.,
// "Handbook of Mathematics", section 3.3 (bodies), as computed in the second
// column.
func flats(n int) float64 {
	x := 2 * math.Pi / float64(n)
	return math.Sin(x) / x
}

func TestVolumesOfBodies(t *testing.T) {
	const n = 256
	frustum := must(solid.Turn([]solid.PointRZ{{R: 0, Z: 0}, {R: 30, Z: 0}, {R: 20, Z: 60}, {R: 0, Z: 60}}, n))
	// V = πh(R² + Rr + r²)/3 = 119 380.521 for R 30, r 20, h 60.
	if got := frustum.Volume() / flats(n); !near(got, 119380.521, 1e-8) {
		t.Errorf("frustum: volume %v, want 119380.521", got)
	}
	// Lateral 9 554.781 + discs π(30² + 20²); flats are chords, so a little less.
	if got, want := frustum.Area(), 9554.781+math.Pi*1300; got > want || !near(got, want, 1e-4) {
		t.Errorf("frustum: area %v, want a little below %v", got, want)
	}

	// Torus R 50, r 10: V = 2π²Rr² = 98 696.044, A = 4π²Rr = 19 739.209.
	const corners = 240
	ring := torus(50, 10, corners, n)
	if got := ring.Volume() / flats(n) / flats(corners); !near(got, 98696.044, 1e-8) {
		t.Errorf("torus: volume %v, want 98696.044", got)
	}
	if got := ring.Area(); got > 19739.209 || !near(got, 19739.209, 1e-4) {
		t.Errorf("torus: area %v, want a little below 19739.209", got)
	}
	if g, err := ring.Genus(); g != 1 || err != nil {
		t.Errorf("torus: genus %d, %v, want 1", g, err)
	}

	// Spherical cap R 50, h 20: V = πh²(3R − h)/3 = 54 454.273, dome 2πRh = 6 283.185.
	var profile []solid.PointRZ
	const steps = 800
	for k := range steps {
		a := math.Acos(0.6) * float64(k) / steps // from the pole
		profile = append(profile, solid.PointRZ{R: 50 * math.Sin(a), Z: 50 * math.Cos(a)})
	}
	profile[0].R = 0
	profile = append(profile, solid.PointRZ{R: 40, Z: 30}, solid.PointRZ{R: 0, Z: 30})
	// From the pole down and back along the axis is clockwise.
	for i, j := 0, len(profile)-1; i < j; i, j = i+1, j-1 {
		profile[i], profile[j] = profile[j], profile[i]
	}
	cap := must(solid.Turn(profile, n))
	if got := cap.Volume() / flats(n); !near(got, 54454.273, 1e-6) {
		t.Errorf("cap: volume %v, want 54454.273", got)
	}
	if got, want := cap.Area(), 6283.185+math.Pi*1600; !near(got, want, 1e-4) {
		t.Errorf("cap: area %v, want %v", got, want)
	}
}

// Pappus and Guldinus: V = 2π·x̄·A, by the area and centroid of the profile,
// which a prism gives without any turning.
func TestPappusGuldinus(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		profile := someProfile(t)
		n := rapid.IntRange(3, 64).Draw(t, "segments")
		var outline []solid.Point
		for _, p := range profile {
			outline = append(outline, solid.Point{p.R, p.Z})
		}
		plate := must(solid.Prism(solid.Region{Outer: outline}, 0, 1)).Mass()
		want := 2 * math.Pi * plate.Centroid[0] * plate.Volume * flats(n)
		if got := must(solid.Turn(profile, n)).Volume(); !near(got, want, 1e-11) {
			t.Fatalf("turned %v, Pappus %v", got, want)
		}
	})
}

// Box of sides a, b, c: I = m(b² + c²)/12 about its centre.
func TestMassOfBox(t *testing.T) {
	m := box(1000, 2000, 3000, 1002, 2003, 3005).Mass()
	if !near(m.Volume, 30, 1e-13) || !near(m.Area, 62, 1e-13) || m.Centroid != (solid.Vec{1001, 2001.5, 3002.5}) {
		t.Errorf("Mass = %+v", m)
	}
	want := solid.Tensor{{30 * 34 / 12.0, 0, 0}, {0, 30 * 29 / 12.0, 0}, {0, 0, 30 * 13 / 12.0}}
	for i := range 3 {
		for j := range 3 {
			if math.Abs(m.Inertia[i][j]-want[i][j]) > 1e-10 {
				t.Errorf("Inertia[%d][%d] = %v, want %v", i, j, m.Inertia[i][j], want[i][j])
			}
		}
	}
}

// Steiner: about a parallel axis the moment grows by V·d²; so the moments of two
// halves, each taken to the common centre, add up to those of the whole.
func TestInertiaOfParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := someSolid(t)
		above, below, err := solid.Cut(m, somePlane(t, m))
		if err != nil {
			t.Fatal(err)
		}
		whole := m.Mass()
		var sum solid.Tensor
		for _, p := range []solid.Mass{above.Mass(), below.Mass()} {
			d := p.Centroid.Sub(whole.Centroid)
			for i := range 3 {
				for j := range 3 {
					sum[i][j] += p.Inertia[i][j] - p.Volume*d[i]*d[j]
					if i == j {
						sum[i][j] += p.Volume * d.Dot(d)
					}
				}
			}
		}
		for i := range 3 {
			for j := range 3 {
				if math.Abs(sum[i][j]-whole.Inertia[i][j]) > 1e-10*whole.Inertia[0][0] {
					t.Fatalf("[%d][%d]: parts %v, whole %v", i, j, sum[i][j], whole.Inertia[i][j])
				}
			}
		}
	})
}

func TestGenusAndComponents(t *testing.T) {
	for _, c := range []struct {
		name       string
		mesh       solid.Mesh
		genus, own int
	}{
		{"empty", solid.Mesh{}, 0, 0},
		{"box", box(0, 0, 0, 1, 1, 1), 0, 1},
		{"tube", tube(30, 20, 40, 12), 1, 1},
		{"two", solid.Join(box(0, 0, 0, 1, 1, 1), tube(30, 20, 40, 12)), 1, 2},
		{"hollow", must(solid.TurnLoops([][]solid.PointRZ{
			{{R: 0, Z: 0}, {R: 30, Z: 0}, {R: 30, Z: 60}, {R: 0, Z: 60}},
			{{R: 0, Z: 50}, {R: 20, Z: 50}, {R: 20, Z: 10}, {R: 0, Z: 10}},
		}[:1], 12)), 0, 1},
		{"ring void", must(solid.TurnLoops([][]solid.PointRZ{
			{{R: 10, Z: 0}, {R: 30, Z: 0}, {R: 30, Z: 60}, {R: 10, Z: 60}},
			{{R: 15, Z: 50}, {R: 20, Z: 50}, {R: 20, Z: 10}, {R: 15, Z: 10}},
		}, 12)), 2, 2},
	} {
		g, err := c.mesh.Genus()
		if g != c.genus || err != nil {
			t.Errorf("%s: Genus = %d, %v, want %d", c.name, g, err, c.genus)
		}
		parts := c.mesh.Components()
		if len(parts) != c.own {
			t.Errorf("%s: %d components, want %d", c.name, len(parts), c.own)
		}
		sum := 0.0
		for _, p := range parts {
			sum += p.Volume()
		}
		if !near(sum, c.mesh.Volume(), 1e-13) {
			t.Errorf("%s: components hold %v of %v", c.name, sum, c.mesh.Volume())
		}
	}
}
