package solid_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
)

func ExampleSections() {
	pipe, err := solid.Turn([]solid.PointRZ{{R: 50, Z: 0}, {R: 55, Z: 0}, {R: 55, Z: 100}, {R: 50, Z: 100}}, 64)
	if err != nil {
		fmt.Println(err)
		return
	}
	layers, err := solid.Sections(pipe, []float64{0.1, 50, 120})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range layers {
		fmt.Printf("z %.1f: %.1f mm², %d loops\n", l.Z, l.Area, len(l.Loops))
	}
	// Output:
	// z 0.1: 1646.7 mm², 2 loops
	// z 50.0: 1646.7 mm², 2 loops
	// z 120.0: 0.0 mm², 0 loops
}

// A turned solid of n flats is cut across its axis in regular polygons:
// A = (n/2)·r²·sin(2π/n), perimeter 2·n·r·sin(π/n).
func TestSectionOfTube(t *testing.T) {
	const n = 48
	m := tube(30, 20, 40, n)
	area := n / 2.0 * (900 - 400) * math.Sin(2*math.Pi/n)
	perimeter := 2 * n * (30 + 20) * math.Sin(math.Pi/n)
	for _, z := range []float64{1e-9, 17, 40} {
		s, err := solid.Section(m, solid.PlaneZ(z))
		if err != nil {
			t.Fatal(err)
		}
		if !near(s.Area, area, 1e-12) || !near(s.Perimeter, perimeter, 1e-12) {
			t.Errorf("z %v: area %v, perimeter %v, want %v, %v", z, s.Area, s.Perimeter, area, perimeter)
		}
		if len(s.Regions) != 1 || len(s.Regions[0].Holes) != 1 {
			t.Errorf("z %v: regions %v", z, s.Regions)
		}
	}
	// A vertex on the plane counts as above it.
	if s, err := solid.Section(m, solid.PlaneZ(0)); err != nil || s.Area != 0 || len(s.Regions) != 0 {
		t.Errorf("z 0: %+v, %v", s, err)
	}
	// Along the axis: two rectangles of 10 × 40.
	s, err := solid.Section(m, solid.Plane{Normal: solid.Vec{0, 2, 0}, Offset: 0})
	if err != nil || !near(s.Area, 800, 1e-12) || !near(s.Perimeter, 200, 1e-12) || len(s.Regions) != 2 {
		t.Errorf("along the axis: %+v, %v", s, err)
	}
}

// The section is the cap of the cut: the surface of the two parts is that of the
// whole and twice the section, whatever the plane, unless a face lies in it.
func TestSectionIsTheCap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := someSolid(t)
		p := somePlane(t, m)
		p.Offset += 1e-3 * p.Normal.Length() // off any face
		above, below, err := solid.Cut(m, p)
		if err != nil {
			t.Fatal(err)
		}
		s, err := solid.Section(m, p)
		if err != nil {
			t.Fatal(err)
		}
		caps := above.Area() + below.Area() - m.Area()
		if math.Abs(caps-2*s.Area) > 1e-9*m.Area() {
			t.Fatalf("caps cover %v, section %v", caps/2, s.Area)
		}
		area, length := 0.0, 0.0
		for _, r := range s.Regions {
			area += r.Area()
			length += r.Perimeter()
			for _, q := range r.Outer {
				if d := p.Side(s.Frame.Lift(q)); math.Abs(d) > 1e-9 {
					t.Fatalf("%v lifts to a point %g off the plane", q, d)
				}
			}
		}
		if !near(area, s.Area, 1e-9) || !near(length, s.Perimeter, 1e-9) {
			t.Fatalf("regions %v, %v; section %v, %v", area, length, s.Area, s.Perimeter)
		}
	})
}

// The sweep agrees with one section at a time, in the order asked for.
func TestSectionsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := someSolid(t)
		b := m.Bounds()
		var stations []float64
		for range rapid.IntRange(0, 9).Draw(t, "n") {
			stations = append(stations, rapid.OneOf(
				rapid.Float64Range(b.Min[2]-1, b.Max[2]+1),
				rapid.Map(rapid.IntRange(0, len(m.Vertices)-1), func(i int) float64 { return m.Vertices[i][2] }),
			).Draw(t, "z"))
		}
		layers, err := solid.Sections(m, stations)
		if err != nil {
			t.Fatal(err)
		}
		for i, z := range stations {
			s, err := solid.Section(m, solid.PlaneZ(z))
			if err != nil {
				t.Fatal(err)
			}
			l := layers[i]
			if l.Z != z || math.Abs(l.Area-s.Area) > 1e-9*(1+s.Area) || math.Abs(l.Perimeter-s.Perimeter) > 1e-9*(1+s.Perimeter) {
				t.Fatalf("z %v: %v, %v; alone %v, %v", z, l.Area, l.Perimeter, s.Area, s.Perimeter)
			}
			if len(l.Regions()) != len(s.Regions) {
				t.Fatalf("z %v: %d regions, alone %d", z, len(l.Regions()), len(s.Regions))
			}
		}
	})
}

// Cavalieri: the layers add up to the volume. For a body whose section changes
// linearly with z between stations, the middle section of each slab is within
// the second-order term; for a tube it is exact.
func TestSectionsAddUp(t *testing.T) {
	m := tube(30, 20, 40, 36)
	var stations []float64
	for i := range 200 {
		stations = append(stations, 0.1+0.2*float64(i))
	}
	volume, visited := 0.0, 0
	slices.Reverse(stations)
	last := -1.0
	err := solid.WalkSections(m, stations, func(i int, l solid.Layer) bool {
		if l.Z != stations[i] || l.Z < last {
			t.Errorf("layer %d at %v after %v", i, l.Z, last)
		}
		last = l.Z
		volume += 0.2 * l.Area
		visited++
		return true
	})
	if err != nil || visited != 200 || !near(volume, m.Volume(), 1e-12) {
		t.Errorf("layers hold %v of %v in %d visits, %v", volume, m.Volume(), visited, err)
	}
	visited = 0
	if err := solid.WalkSections(m, stations, func(int, solid.Layer) bool { visited++; return false }); err != nil || visited != 1 {
		t.Errorf("stopped after %d, %v", visited, err)
	}
	if _, err := solid.Sections(m, []float64{math.NaN()}); err == nil {
		t.Error("NaN gives no error")
	}
	if _, err := solid.Sections(solid.Mesh{Vertices: m.Vertices, Triangles: m.Triangles[1:]}, []float64{1}); err == nil {
		t.Error("an open mesh gives no error")
	}
}
