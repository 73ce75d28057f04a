package solid_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
)

func ExampleTurn() {
	// A tail ring to slip over a pipe of 110 mm: bore 111 mm measured on the flats.
	const segments = 256
	bore := 55.5 * solid.FacetScale(segments)
	ring, err := solid.Turn([]solid.PointRZ{{R: bore, Z: 0}, {R: 80, Z: 0}, {R: 70, Z: 25}, {R: bore, Z: 25}}, segments)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("closed %v, %d triangles, %.1f cm³\n", ring.Closed(), len(ring.Triangles), ring.Volume()/1000)
	// Output: closed true, 2048 triangles, 200.5 cm³
}

func TestTurnRefuses(t *testing.T) {
	nan := math.NaN()
	type P = solid.PointRZ
	for _, c := range []struct {
		name    string
		profile []P
		fault   solid.LoopFault
		index   int
		text    string
	}{
		{"two points", []P{{0, 0}, {1, 0}}, solid.TooFewPoints, 0, "profile loop 0 has fewer than three points"},
		{"NaN", []P{{0, 0}, {1, nan}, {0, 1}}, solid.PointNotFinite, 1, "profile loop 0, point 1 (station NaN, radius 1): coordinate not finite"},
		{"beyond the axis", []P{{-1, 0}, {5, 0}, {5, 9}}, solid.NegativeRadius, 0, "profile loop 0, point 0 (station 0, radius -1): radius is negative"},
		{"repeated", []P{{0, 0}, {5, 0}, {5, 0}, {5, 9}}, solid.RepeatedPoint, 2, "profile loop 0, point 2 (station 0, radius 5): repeats the point before it"},
		{"closed by hand", []P{{0, 0}, {5, 0}, {5, 9}, {0, 0}}, solid.RepeatedPoint, 0, "profile loop 0, point 0 (station 0, radius 0): repeats the point before it"},
		{"folded", []P{{0, 0}, {5, 0}, {9, 0}, {7, 0}, {5, 9}}, solid.FoldedBack, 2, "profile loop 0, point 2 (station 0, radius 9): the outline folds back on itself"},
		{"crossing", []P{{1, 0}, {5, 8}, {5, 0}, {1, 8}}, solid.Crossing, 0, "profile crosses or touches itself near station 4, radius 3: edge 0 of loop 0 and edge 2 of loop 0"},
		{"touching", []P{{1, 0}, {9, 0}, {9, 9}, {5, 0}, {1, 9}}, solid.Crossing, 0, "profile crosses or touches itself near station 0, radius 5: edge 0 of loop 0 and edge 2 of loop 0"},
		{"clockwise", []P{{1, 0}, {1, 9}, {5, 9}, {5, 0}}, solid.WrongWay, 0, "profile loop 0, point 0 (station 0, radius 1): runs the wrong way (outer loops anticlockwise, holes clockwise)"},
		{"apex on the axis", []P{{0, 0}, {9, -5}, {9, 5}}, solid.TouchesAxis, 0, "profile loop 0, point 0 (station 0, radius 0): touches the axis in a single point; keep clear of the axis or follow it"},
	} {
		m, err := solid.Turn(c.profile, 8)
		var loop *solid.LoopError
		if !errors.As(err, &loop) {
			t.Errorf("%s: Turn = %v, %v, want a LoopError", c.name, m, err)
			continue
		}
		if loop.Fault != c.fault || loop.Index != c.index || loop.Error() != c.text {
			t.Errorf("%s: fault %d at %d: %s\nwant %d at %d: %s", c.name, loop.Fault, loop.Index, loop, c.fault, c.index, c.text)
		}
	}
	var value *solid.ValueError
	if _, err := solid.Turn([]P{{0, 0}, {1, 0}, {0, 1}}, 2); !errors.As(err, &value) {
		t.Errorf("Turn of 2 segments: %v", err)
	}
	if _, err := solid.Turn([]P{{0, 0}, {1, 0}, {0, 1}}, math.MaxInt32); !errors.As(err, &value) {
		t.Errorf("Turn of two thousand million segments: %v", err)
	}
	if _, err := solid.TurnLoops(nil, 8); err == nil {
		t.Error("TurnLoops(nil) gives no error")
	}
}

func TestTurnIsClosed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := someSolid(t)
		if faults := m.Check(); len(faults) > 0 {
			t.Fatalf("first of %d faults: %v", len(faults), faults[0])
		}
	})
}

// Mirror images have the same bits, and quarter turns map the solid to itself.
func TestTurnIsSymmetric(t *testing.T) {
	for _, n := range []int{4, 12, 100, 256, 360} {
		m := tube(30, 20, 40, n)
		at := map[solid.Vec]bool{}
		for _, p := range m.Vertices {
			at[p] = true
		}
		for _, move := range []solid.Transform{
			solid.Reflection(solid.Plane{Normal: solid.Vec{1, 0, 0}}),
			solid.Reflection(solid.Plane{Normal: solid.Vec{0, 1, 0}}),
			solid.Reflection(solid.Plane{Normal: solid.Vec{1, -1, 0}}),
			solid.QuarterTurns(2, 1), solid.QuarterTurns(2, -1), solid.QuarterTurns(2, 2),
		} {
			for _, p := range m.Vertices {
				if !at[move.Apply(p)] {
					t.Fatalf("%d segments: the image of %v is no vertex", n, p)
				}
			}
		}
		if m.Vertices[0] != (solid.Vec{20, 0, 0}) {
			t.Errorf("%d segments: first corner %v, want on +x", n, m.Vertices[0])
		}
	}
}

func TestFacets(t *testing.T) {
	// A hexagon: the distance across flats is √3/2 of that across corners.
	if got := solid.FacetScale(6); !near(got, 2/math.Sqrt(3), 1e-15) {
		t.Errorf("FacetScale(6) = %v", got)
	}
	for _, c := range []struct{ radius, sagitta float64 }{{126, 0.01}, {10, 0.5}, {1, 2}, {1000, 1e-3}} {
		n, err := solid.SegmentsFor(c.radius, c.sagitta)
		if err != nil || n%4 != 0 {
			t.Fatalf("SegmentsFor(%v) = %d, %v", c, n, err)
		}
		sagitta := func(n int) float64 { return c.radius * (1 - math.Cos(math.Pi/float64(n))) }
		if sagitta(n) > c.sagitta*(1+1e-9) {
			t.Errorf("%v: %d flats leave %v", c, n, sagitta(n))
		}
		if n > 4 && sagitta(n-4) <= c.sagitta {
			t.Errorf("%v: %d flats would do", c, n-4)
		}
	}
	for _, c := range [][2]float64{{0, 1}, {1, 0}, {math.NaN(), 1}, {1, math.NaN()}, {1e9, 1e-9}, {math.Inf(1), 1}} {
		if n, err := solid.SegmentsFor(c[0], c[1]); err == nil {
			t.Errorf("SegmentsFor(%v) = %d", c, n)
		}
	}
}
