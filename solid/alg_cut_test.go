package solid_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
)

// Law 3 of the package: both parts closed, their volume that of the whole, and
// the cap as large as the section.
func TestCutConservesVolume(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := someSolid(t)
		p := somePlane(t, m)
		above, below, err := solid.Cut(m, p)
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range []struct {
			name string
			mesh solid.Mesh
			sign float64
		}{{"above", above, 1}, {"below", below, -1}} {
			if faults := part.mesh.Check(); len(faults) > 0 {
				t.Fatalf("%s: %d faults, first: %v", part.name, len(faults), faults[0])
			}
			near := 1e-11 * p.Normal.Length() * 100
			for _, v := range part.mesh.Vertices {
				if part.sign*p.Side(v) < -near {
					t.Fatalf("%s has a vertex %v beyond the plane by %g", part.name, v, p.Side(v))
				}
			}
		}
		whole := m.Volume()
		if sum := above.Volume() + below.Volume(); !within(sum, whole, 1e-12) {
			t.Fatalf("parts hold %.17g + %.17g, whole %.17g (off by %g)", above.Volume(), below.Volume(), whole, (sum-whole)/whole)
		}
	})
}

// Pieces are cut again and again, often through corners that a cut has made.
func TestCutChains(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := []solid.Mesh{someSolid(t)}
		whole := parts[0].Volume()
		for range rapid.IntRange(2, 6).Draw(t, "cuts") {
			m := parts[0]
			if m.Empty() {
				parts = append(parts[1:], m)
				continue
			}
			above, below, err := solid.Cut(m, somePlane(t, m))
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range []solid.Mesh{above, below} {
				for _, f := range p.Check() {
					// A sliver of a few steps of rounding may fall flat or turn over;
					// the topology may not.
					if f.Kind != solid.DegenerateFace && f.Kind != solid.InsideOut {
						t.Fatalf("%v", f)
					}
				}
			}
			parts = append(parts[1:], above, below)
		}
		sum := 0.0
		for _, p := range parts {
			sum += p.Volume()
		}
		if !within(sum, whole, 1e-11) {
			t.Fatalf("the parts hold %.17g of %.17g", sum, whole)
		}
	})
}

func within(got, want, rel float64) bool { return math.Abs(got-want) <= rel*math.Abs(want) }

func TestCutAlongFaces(t *testing.T) {
	plate := frameSolid()
	for _, c := range []struct {
		name         string
		plane        solid.Plane
		above, below float64 // volumes by hand
	}{
		{"bottom", solid.PlaneZ(0), plate.Volume(), 0},
		{"top", solid.PlaneZ(6), 0, plate.Volume()},
		{"step", solid.Plane{Normal: solid.Vec{0, 1, 0}, Offset: 5}, 6 * (100 - 6 - 25.0), 6 * (100 - 30.0)},
		{"beyond", solid.PlaneZ(100), 0, plate.Volume()},
	} {
		above, below, err := solid.Cut(plate, c.plane)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		wantSolid(t, c.name+" above", above)
		wantSolid(t, c.name+" below", below)
		if !near(above.Volume(), c.above, 1e-13) || !near(below.Volume(), c.below, 1e-13) {
			t.Errorf("%s: volumes %v and %v, want %v and %v", c.name, above.Volume(), below.Volume(), c.above, c.below)
		}
	}
}

// A groove whose bottom edge just reaches the plane: the part below touches its
// own cap along that edge and must still have two triangles at each edge.
func TestCutTouchingGroove(t *testing.T) {
	// Seen along y: a block 20 wide and 10 high with a tent-shaped tunnel whose
	// ridge is at z = 5.
	m := must(solid.Prism(solid.Region{
		Outer: []solid.Point{{0, 0}, {20, 0}, {20, 10}, {0, 10}},
		Holes: [][]solid.Point{{{8, 2}, {10, 5}, {12, 2}}},
	}, 0, 30))
	m = m.Transform(solid.QuarterTurns(0, 1))
	above, below, err := solid.Cut(m, solid.PlaneZ(5))
	if err != nil {
		t.Fatal(err)
	}
	wantSolid(t, "above", above)
	wantSolid(t, "below", below)
	if want := 30 * (100 - 6.0); !near(below.Volume(), want, 1e-13) {
		t.Errorf("below holds %v, want %v", below.Volume(), want)
	}
	if want := 30 * 100.0; !near(above.Volume(), want, 1e-13) {
		t.Errorf("above holds %v, want %v", above.Volume(), want)
	}
}

func TestCutRefuses(t *testing.T) {
	cube := box(0, 0, 0, 1, 1, 1)
	open := solid.Mesh{Vertices: cube.Vertices, Triangles: cube.Triangles[1:]}
	var notSolid *solid.NotSolidError
	if _, _, err := solid.Cut(open, solid.PlaneZ(0.5)); !errors.As(err, &notSolid) {
		t.Errorf("Cut(open) = %v, want a NotSolidError", err)
	}
	var value *solid.ValueError
	for _, p := range []solid.Plane{{}, {Normal: solid.Vec{0, 0, math.NaN()}}, {Normal: solid.Vec{0, 0, 1}, Offset: math.Inf(1)}} {
		if _, _, err := solid.Cut(cube, p); !errors.As(err, &value) {
			t.Errorf("Cut(%v) = %v, want a ValueError", p, err)
		}
	}
	above, below, err := solid.Cut(solid.Mesh{}, solid.PlaneZ(0))
	if err != nil || !above.Empty() || !below.Empty() {
		t.Errorf("Cut(empty) = %v, %v, %v", above, below, err)
	}
}
