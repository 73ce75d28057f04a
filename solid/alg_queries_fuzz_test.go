package solid_test

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
)

// tetrahedron draws one with whole corners, the right way round; it may be flat.
func tetrahedron(t *rapid.T, most int) solid.Mesh {
	coord := rapid.Map(rapid.IntRange(0, most), func(i int) float64 { return float64(i) })
	m := solid.Mesh{Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}}}
	for range 4 {
		m.Vertices = append(m.Vertices, solid.Vec{coord.Draw(t, "x"), coord.Draw(t, "y"), coord.Draw(t, "z")})
	}
	if solid.OrientSpace(m.Vertices[0], m.Vertices[1], m.Vertices[2], m.Vertices[3]) == solid.Below {
		return turnedOver(m)
	}
	return m
}

// flat reports whether a tetrahedron holds nothing.
func flat(m solid.Mesh) bool {
	v := m.Vertices
	return solid.OrientSpace(v[0], v[1], v[2], v[3]) == solid.On
}

// askAll asks everything about tetrahedra that may overlap, touch, be flat or lie
// on each other, and holds the answers to each other and to slow ones.
func askAll(t *rapid.T) {
	one := solid.Kernel{Workers: 1}
	var parts []solid.Mesh
	for range rapid.IntRange(1, 6).Draw(t, "tetrahedra") {
		parts = append(parts, tetrahedron(t, 5))
	}
	m := solid.Join(parts...)
	tree := must(solid.NewTree(m))

	// A point is on the surface where the surface is at no distance, and inside
	// where the solid angles add up to a whole turn or more.
	coord := rapid.Map(rapid.IntRange(-2, 12), func(i int) float64 { return float64(i) / 2 })
	p := solid.Vec{coord.Draw(t, "x"), coord.Draw(t, "y"), coord.Draw(t, "z")}
	place := must(tree.Locate(p))
	n, found, err := tree.Nearest(p, math.Inf(1))
	if err != nil || !found {
		t.Fatalf("nearest to %v: %v, %t", p, err, found)
	}
	if on := place == solid.OnSurface; on && n.Distance > 1e-9 || !on && n.Distance < 1e-9 {
		t.Fatalf("%v has place %d at %g from the surface", p, place, n.Distance)
	}
	if place != solid.OnSurface {
		if turns := math.Round(slowWinding(m, p)); (turns > 0) != (place == solid.Inside) {
			t.Fatalf("%v has place %d, winding %g", p, place, turns)
		}
	}

	// A line enters as often as it leaves, whatever it meets.
	var way solid.Vec
	for k := range 3 {
		way[k] = float64(rapid.IntRange(-3, 3).Draw(t, "way"))
	}
	if way != (solid.Vec{}) {
		r := must(solid.NewRay(p.Sub(way.Scale(64)), way, math.Inf(1)))
		hits := tree.Hits(r)
		if balance(hits) != 0 {
			t.Fatalf("line through %v along %v: %v", p, way, hits)
		}
		if first, hit := tree.FirstHit(r); hit != (len(hits) > 0) || hit && first != hits[0] {
			t.Fatalf("line through %v along %v: first %v of %v", p, way, first, hits)
		}
	}

	// Contacts don't depend on the order of the triangles.
	contacts := must(one.Contacts(context.Background(), m))
	last := int32(len(m.Triangles)) - 1
	backwards := solid.Mesh{Vertices: m.Vertices}
	for i := range m.Triangles {
		f := m.Triangles[last-int32(i)]
		backwards.Triangles = append(backwards.Triangles, [3]int32{f[1], f[2], f[0]})
	}
	kinds := map[[2]int32]solid.ContactKind{}
	for _, c := range must(one.Contacts(context.Background(), backwards)) {
		kinds[[2]int32{last - c.Triangles[1], last - c.Triangles[0]}] = c.Kind
	}
	for _, c := range contacts {
		if kinds[c.Triangles] != c.Kind {
			t.Fatalf("%v is %v backwards", c, kinds[c.Triangles])
		}
	}
	if len(kinds) != len(contacts) {
		t.Fatalf("%d contacts, backwards %d", len(contacts), len(kinds))
	}

	th, err := one.Thickness(context.Background(), m, solid.ThicknessOptions{Balls: true})
	if err != nil {
		t.Fatal(err)
	}
	for i, ray := range th.Ray.Of {
		if !(ray >= 0) || !(th.Ball.Of[i] >= 0) || th.Ball.Of[i] > ray {
			t.Fatalf("triangle %d: ray %g, ball %g", i, ray, th.Ball.Of[i])
		}
	}
}

func TestQueriesHoldTogether(t *testing.T) { rapid.Check(t, askAll) }

// The draws make something of any bytes; longer ones reach
// further.
func FuzzQueries(f *testing.F) {
	for _, n := range []int{0, 64, 512, 4096} {
		seed := make([]byte, n)
		for i := range seed {
			seed[i] = byte(i * 37 >> (i % 5))
		}
		f.Add(seed)
	}
	f.Fuzz(rapid.MakeFuzz(askAll))
}

// Two solids have room in common where the kernel's intersection of them has
// volume: another method, in other files.
func TestOverlapAgreesWithIntersect(t *testing.T) {
	one := solid.Kernel{Workers: 1}
	rapid.Check(t, func(t *rapid.T) {
		a, b := tetrahedron(t, 4), tetrahedron(t, 4)
		if flat(a) || flat(b) {
			t.Skip("flat")
		}
		o := must(one.Overlap(context.Background(), a, b))
		back := must(one.Overlap(context.Background(), b, a))
		if o.Meeting != back.Meeting {
			t.Fatalf("%v, the other way round %v", o.Meeting, back.Meeting)
		}
		common := must(one.Intersect(context.Background(), a, b)).Volume()
		// The least volume of such a piece is far above a rounding: its corners are
		// fractions with denominators of some thousands.
		if (o.Meeting == solid.Overlapping) != (common > 1e-12) {
			t.Fatalf("%v and %v: %v, but %g in common", a.Vertices, b.Vertices, o.Meeting, common)
		}
		c := must(one.Clearance(context.Background(), a, b))
		if (c.Distance == 0) != (o.Meeting != solid.Apart) {
			t.Fatalf("%v at a clearance of %g", o.Meeting, c.Distance)
		}
	})
}
