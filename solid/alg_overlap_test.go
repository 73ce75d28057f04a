package solid_test

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
	"scalewright/solid/solidtest"
)

func TestOverlapNastyCases(t *testing.T) {
	cube := box(0, 0, 0, 2, 2, 2)
	at := func(x, y, z float64) solid.Mesh { return cube.Translate(solid.Vec{x, y, z}) }
	away := solid.Vec{1e9, -1e9, 1e9}
	hollow := solid.Join(box(0, 0, 0, 9, 9, 9), turnedOver(box(1, 1, 1, 8, 8, 8)))
	for name, c := range map[string]struct {
		a, b solid.Mesh
		want solid.Meeting
	}{
		"apart":                       {cube, at(3, 0, 0), solid.Apart},
		"boxes meet, solids don't":    {torus(50, 10, 12, 24), box(-5, -5, -5, 5, 5, 5), solid.Apart},
		"touching in a face":          {cube, at(2, 0, 0), solid.InContact},
		"touching in part of a face":  {cube, at(2, 1, 0.5), solid.InContact},
		"touching in an edge":         {cube, at(2, 2, 0), solid.InContact},
		"touching in part of an edge": {cube, at(2, 2, 1), solid.InContact},
		"touching in a corner":        {cube, at(2, 2, 2), solid.InContact},
		"a corner on a face":          {box(-9, -9, -9, 9, 9, 0), quarterTurned(cube), solid.InContact},
		"a rounding apart":            {cube, at(2.0000000000000004, 0, 0), solid.Apart},
		"a rounding deep":             {cube, at(1.9999999999999998, 0, 0), solid.Overlapping},
		"the same":                    {cube, cube, solid.Overlapping},
		"shifted along a face":        {cube, at(1, 0, 0), solid.Overlapping},
		"shifted along a diagonal":    {cube, at(1, 1, 0), solid.Overlapping},
		"through a corner":            {cube, at(1, 1, 1), solid.Overlapping},
		"one within":                  {box(-9, -9, -9, 9, 9, 9), cube, solid.Overlapping},
		"one within, in a corner":     {box(0, 0, 0, 9, 9, 9), cube, solid.Overlapping},
		"one within, on a face":       {box(-9, -9, 0, 9, 9, 9), cube, solid.Overlapping},
		"one in a cavity":             {hollow, cube.Translate(solid.Vec{3, 3, 3}), solid.Apart},
		"one fills a cavity":          {hollow, box(1, 1, 1, 8, 8, 8), solid.InContact},
		"one stands in a cavity":      {hollow, cube.Translate(solid.Vec{3, 3, 1}), solid.InContact},
		"one leans on a step":         {stepped(), box(0, 1, 1, 2, 2, 2), solid.InContact},
		"one is the step's inside":    {stepped(), box(0, 0, 0, 2, 1, 1), solid.Overlapping},
		"crosswise, edge in face":     {box(0, 0, 0, 9, 2, 2), box(4, 0, -4, 6, 2, 4), solid.Overlapping},
		"far away, touching":          {cube.Translate(away), at(2, 0, 0).Translate(away), solid.InContact},
		"far away, the same":          {cube.Translate(away), cube.Translate(away), solid.Overlapping},
		"empty":                       {cube, solid.Mesh{}, solid.Apart},
		"an edge of four triangles":   {solid.Join(cube, at(2, 2, 0)).Weld(), at(2, 0, 1), solid.InContact},
		"a corner shared, one within": {solid.Join(cube, at(2, 2, 2)).Weld(), box(1.5, 1.5, 1.5, 9, 9, 9), solid.Overlapping},
	} {
		for i, pair := range [][2]solid.Mesh{{c.a, c.b}, {c.b, c.a}} {
			o, err := solid.Kernel{}.Overlap(t.Context(), pair[0], pair[1])
			if err != nil || o.Meeting != c.want {
				t.Errorf("%s (%d): %v, %v; want %v", name, i, o.Meeting, err, c.want)
			}
			if (o.Meeting == solid.InContact) && len(o.Contacts) == 0 {
				t.Errorf("%s (%d): no contacts", name, i)
			}
		}
	}
}

// quarterTurned stands a cube on a corner at the origin, upwards.
func quarterTurned(m solid.Mesh) solid.Mesh {
	out := solid.Mesh{Triangles: m.Triangles}
	for _, v := range m.Vertices { // the corner's three edges go to (1,0,1), (-1,1,1), (-1,-1,1)
		x, y, z := v[0], v[1], v[2]
		out.Vertices = append(out.Vertices, solid.Vec{x - y - z, y - z, x + y + z})
	}
	return out
}

// stepped is an L of two unit squares and one, two long: reflex along an edge.
func stepped() solid.Mesh {
	region := solid.Region{Outer: []solid.Point{{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}}}
	m := must(solid.Prism(region, 0, 2))
	out := solid.Mesh{Triangles: m.Triangles}
	for _, v := range m.Vertices { // x→y, y→z, z→x: an even exchange keeps the inside in
		out.Vertices = append(out.Vertices, solid.Vec{v[2], v[0], v[1]})
	}
	return out
}

// Boxes with whole coordinates overlap where their intervals do, and touch where
// they meet end to end: nothing but comparisons.
func TestOverlapOfBoxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func() (lo, hi solid.Vec) {
			for k := range 3 {
				lo[k] = float64(rapid.IntRange(0, 4).Draw(t, "low"))
				hi[k] = lo[k] + float64(rapid.IntRange(1, 3).Draw(t, "length"))
			}
			return lo, hi
		}
		lo, hi := draw()
		low, high := draw()
		want := solid.Overlapping
		var apart2 float64
		for k := range 3 {
			gap := max(lo[k]-high[k], low[k]-hi[k])
			if gap > 0 {
				want = solid.Apart
				apart2 += gap * gap
			} else if gap == 0 && want == solid.Overlapping {
				want = solid.InContact
			}
		}
		a, b := must(solid.Box(lo, hi)), must(solid.Box(low, high))
		o := must(solid.Kernel{Workers: 1}.Overlap(context.Background(), a, b))
		if o.Meeting != want {
			t.Fatalf("%v–%v and %v–%v: %v, want %v", lo, hi, low, high, o.Meeting, want)
		}
		c := must(solid.Kernel{Workers: 1}.Clearance(context.Background(), a, b))
		if !near(c.Distance*c.Distance, apart2, 1e-15) {
			t.Fatalf("%v–%v and %v–%v: clearance %g, want √%g", lo, hi, low, high, c.Distance, apart2)
		}
	})
}

// The same blocks of cubes as [TestLocateAmongCubes]: two overlap where they
// share a cube, and are in contact where cubes of theirs are neighbours.
func TestOverlapOfCubes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const n = 3
		draw := func() (cubes []solid.Vec, m solid.Mesh) {
			var all []solid.Mesh
			for range rapid.IntRange(1, 4).Draw(t, "cubes") {
				c := rapid.IntRange(0, n-1)
				p := solid.Vec{float64(c.Draw(t, "x")), float64(c.Draw(t, "y")), float64(c.Draw(t, "z"))}
				cubes = append(cubes, p)
				all = append(all, solidtest.Cube(p))
			}
			return cubes, solid.Join(all...)
		}
		p, a := draw()
		q, b := draw()
		want := solid.Apart
		for _, u := range p {
			for _, v := range q {
				d := u.Sub(v)
				switch far := max(d[0], -d[0], d[1], -d[1], d[2], -d[2]); {
				case far == 0:
					want = solid.Overlapping
				case far == 1 && want == solid.Apart:
					want = solid.InContact
				}
			}
		}
		if o := must(solid.Kernel{Workers: 1}.Overlap(context.Background(), a, b)); o.Meeting != want {
			t.Fatalf("%v and %v: %v, want %v", p, q, o.Meeting, want)
		}
	})
}

func TestOverlapRefuses(t *testing.T) {
	open := box(0, 0, 0, 1, 1, 1)
	open.Triangles = open.Triangles[1:]
	var notSolid *solid.NotSolidError
	if _, err := (solid.Kernel{}).Overlap(t.Context(), box(0, 0, 0, 1, 1, 1), open); !errors.As(err, &notSolid) {
		t.Errorf("Overlap with an open mesh: error %v, want a NotSolidError", err)
	}
	if _, err := (solid.Kernel{}).Clearance(t.Context(), open, box(0, 0, 0, 1, 1, 1)); !errors.As(err, &notSolid) {
		t.Errorf("Clearance with an open mesh: error %v, want a NotSolidError", err)
	}
	var value *solid.ValueError
	if _, err := (solid.Kernel{}).Clearance(t.Context(), solid.Mesh{}, box(0, 0, 0, 1, 1, 1)); !errors.As(err, &value) {
		t.Errorf("Clearance of nothing: error %v, want a ValueError", err)
	}
}

func ExampleKernel_Overlap() {
	peg, _ := solid.Box(solid.Vec{2, 2, 0}, solid.Vec{4, 4, 9})
	plate, _ := solid.Box(solid.Vec{0, 0, 9}, solid.Vec{10, 10, 12})
	o, _ := solid.Kernel{}.Overlap(context.Background(), peg, plate)
	fmt.Println(o.Meeting)
	// Output: in contact
}
