package solid_test

import (
	"context"
	"encoding/json"
	"os"
	"testing"

	"scalewright/solid"
	"scalewright/solid/solidtest"
)

// outside is what another kernel, a general-purpose geometry library, makes of
// solids given by recipe. bench/kernel/record.mjs wrote it and says how.
type outside struct {
	By    string
	Cases []outsideCase
}

type outsideCase struct {
	Name                            string
	Solids                          []outsideSolid
	Union, Difference, Intersection outsideResult
}

type outsideResult struct{ Volume, Area float64 }

type outsideSolid struct {
	Kind   string
	N, M   int
	Matrix [9]float64
	Shift  [3]float64
}

// mesh follows the recipe, to the rounding to single precision at its end.
func (o outsideSolid) mesh(t *testing.T) solid.Mesh {
	t.Helper()
	var m solid.Mesh
	switch o.Kind {
	case "sphere":
		m = solidtest.Sphere(o.N, 50, solid.Vec{})
	case "tube":
		m = solidtest.Tube(o.N, o.M)
	case "drill":
		m = solidtest.Drills()[o.N]
	case "cube":
		m = solidtest.Cube(solid.Vec{})
	default:
		t.Fatalf("no kind %q", o.Kind)
	}
	for i, p := range m.Vertices {
		for k := range 3 {
			r := o.Matrix[3*k : 3*k+3]
			x := float64(float64(r[0]*p[0])+float64(r[1]*p[1])) + float64(r[2]*p[2])
			m.Vertices[i][k] = float64(float32(x + o.Shift[k]))
		}
	}
	return m
}

// outsideError is how far a volume or an area may be from the other kernel's,
// relative to it and to all that was put in: the library takes edges shorter than
// some roundings of single precision for points, which moves surfaces by that.
const outsideError = 1e-6

func TestBooleansAgreeWithAnotherKernel(t *testing.T) {
	text, err := os.ReadFile("testdata/manifold.json")
	if err != nil {
		t.Fatal(err)
	}
	var all outside
	if err := json.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	if len(all.Cases) < 60 {
		t.Fatalf("%d cases", len(all.Cases))
	}
	ctx := context.Background()
	var k solid.Kernel
	for _, c := range all.Cases {
		var in []solid.Mesh
		volume, area := 0.0, 0.0
		for _, s := range c.Solids {
			m := s.mesh(t)
			in = append(in, m)
			volume, area = volume+m.Volume(), area+m.Area()
		}
		check := func(what string, m solid.Mesh, err error, want outsideResult) {
			t.Helper()
			if err != nil {
				t.Errorf("%s, %s: %v", c.Name, what, err)
				return
			}
			if faults := m.Check(); len(faults) > 0 {
				t.Errorf("%s, %s: %d faults, first: %v", c.Name, what, len(faults), faults[0])
			}
			if got := m.Volume(); !closeTo(got, want.Volume, volume) {
				t.Errorf("%s, %s: volume %.12g, %s has %.12g", c.Name, what, got, all.By, want.Volume)
			}
			// Where nothing is left the library may keep a skin that holds nothing.
			if want.Volume == 0 {
				want.Area = 0
			}
			if got := m.Area(); !closeTo(got, want.Area, area) {
				t.Errorf("%s, %s: area %.12g, %s has %.12g", c.Name, what, got, all.By, want.Area)
			}
		}
		m, err := k.Union(ctx, in...)
		check("union", m, err, c.Union)
		m, err = k.Subtract(ctx, in[0], in[1:]...)
		check("difference", m, err, c.Difference)
		m, err = k.Intersect(ctx, in...)
		check("intersection", m, err, c.Intersection)
	}
}

// closeTo reports whether got is want, relative to it and, far finer, to what was
// put in, whose roundings a small remainder inherits.
func closeTo(got, want, in float64) bool {
	off := got - want
	return max(off, -off) <= outsideError*max(want, -want)+outsideError*1e-3*in
}
