package solid_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
	"scalewright/solid/solidtest"
)

func contacts(t testing.TB, m solid.Mesh) []solid.Contact {
	t.Helper()
	c, err := solid.Kernel{}.Contacts(t.Context(), m)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// pairOf makes a mesh of two triangles, nine numbers each; equal corners are one.
func pairOf(x ...float64) solid.Mesh {
	var m solid.Mesh
	for i := range 6 {
		m.Vertices = append(m.Vertices, solid.Vec{x[3*i], x[3*i+1], x[3*i+2]})
	}
	m.Triangles = [][3]int32{{0, 1, 2}, {3, 4, 5}}
	return m.Weld()
}

func TestContactNastyCases(t *testing.T) {
	const touching, crossing = solid.ContactTouching, solid.ContactCrossing
	for name, c := range map[string]struct {
		mesh solid.Mesh
		want solid.ContactKind
	}{
		"apart":                              {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 0, 0, 1, 4, 0, 1, 0, 4, 1), 0},
		"a rounding apart":                   {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 1, 1, 5e-324, 2, 1, 1, 1, 2, 1), 0},
		"planes cross, not the triangles":    {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 3, 3, -1, 3, 3, 1, 9, 9, 0), 0},
		"through":                            {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 1, 1, -1, 1, 1, 1, 9, 9, 0), crossing},
		"through, turned":                    {pairOf(0, 0, 0, 0, 4, 0, 4, 0, 0 /**/, 1, 1, 1, 9, 9, 0, 1, 1, -1), crossing},
		"through by a rounding":              {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 1, 1, -5e-324, 2, 1, 1, 1, 2, 1), crossing},
		"a corner on the other":              {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 1, 1, 0, 2, 1, 1, 1, 2, 1), touching},
		"an edge on the other":               {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 1, 1, 0, 2, 1, 0, 1, 2, 1), touching},
		"an edge on the other's plane":       {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 5, 1, 0, 5, 2, 0, 1, 1, 1), 0},
		"edges cross":                        {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 2, -1, 0, 2, 1, 0, 2, 0, 3), touching},
		"edge to edge":                       {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 2, 0, -1, 2, 0, 1, 2, -3, 0), touching},
		"corner to corner":                   {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 0, 0, 0, -4, 0, 0, 0, -4, 0), 0},
		"in one plane, overlapping":          {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 1, 1, 0, 5, 1, 0, 1, 5, 0), touching},
		"in one plane, one in the other":     {pairOf(0, 0, 0, 9, 0, 0, 0, 9, 0 /**/, 1, 1, 0, 2, 1, 0, 1, 2, 0), touching},
		"in one plane, apart":                {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 4, 4, 0, 5, 4, 0, 4, 5, 0), 0},
		"a shared corner":                    {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 0, 0, 0, -4, 0, 1, 0, -4, 1), 0},
		"a shared corner, through":           {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 0, 0, 0, 2, 2, 1, 2, 2, -1), crossing},
		"a shared corner, beside":            {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 0, 0, 0, -2, -2, 1, -2, -2, -1), 0},
		"a shared corner, an edge on it":     {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 0, 0, 0, 1, 1, 0, 1, 1, 3), touching},
		"a shared corner, a long edge on":    {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 0, 0, 0, 9, 9, 0, 1, 1, 3), touching},
		"a shared corner, in one plane":      {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 0, 0, 0, 4, 1, 0, 1, 4, 0), touching},
		"a shared edge, flat":                {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 4, 0, 0, 0, 0, 0, 0, -4, 0), 0},
		"a shared edge, bent":                {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 4, 0, 0, 0, 0, 0, 0, 4, 1e-300), 0},
		"a shared edge, folded flat":         {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 4, 0, 0, 0, 0, 0, 1, 7, 0), touching},
		"the same triangle turned over":      {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 0, 0, 0, 0, 4, 0, 4, 0, 0), touching},
		"a segment through":                  {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 1, 1, -1, 1, 1, 1, 1, 1, 0.5), touching},
		"a segment beside":                   {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 3, 3, -1, 3, 3, 1, 3, 3, 0.5), 0},
		"a segment sticks out of an edge":    {pairOf(0, 0, 0, 4, 0, 0, 0, 4, 0 /**/, 0, 0, 0, 4, 0, 0, 6, 0, 0), 0},
		"segments in line, overlapping":      {pairOf(0, 0, 0, 1, 0, 0, 3, 0, 0 /**/, 2, 0, 0, 4, 0, 0, 5, 0, 0), touching},
		"segments in line, apart":            {pairOf(0, 0, 0, 1, 0, 0, 3, 0, 0 /**/, 3.5, 0, 0, 4, 0, 0, 5, 0, 0), 0},
		"segments that stick out of an edge": {pairOf(0, 0, 0, 1, 0, 0, 3, 0, 0 /**/, 0, 0, 0, 1, 0, 0, 5, 0, 0), touching},
	} {
		// The answer depends neither on the order nor on where the corners start.
		for _, turn := range []int{0, 1, 2} {
			for _, swap := range []bool{false, true} {
				m := solid.Mesh{Vertices: c.mesh.Vertices, Triangles: slices.Clone(c.mesh.Triangles)}
				f := m.Triangles[0]
				m.Triangles[0] = [3]int32{f[turn], f[(turn+1)%3], f[(turn+2)%3]}
				if swap {
					m.Triangles[0], m.Triangles[1] = m.Triangles[1], m.Triangles[0]
				}
				var got solid.ContactKind
				if found := contacts(t, m); len(found) > 0 {
					got = found[0].Kind
				}
				if got != c.want {
					t.Errorf("%s (turned %d, swapped %t): %v, want %v", name, turn, swap, got, c.want)
				}
			}
		}
	}
}

// Solids made here never meet themselves; two that pass through each other have
// a closed ring of crossings.
func TestContactsOfSolids(t *testing.T) {
	for name, m := range map[string]solid.Mesh{
		"sphere": solidtest.Sphere(16, 50, solid.Vec{}),
		"tube":   solidtest.Tube(64, 20),
		"frame":  frameSolid(),
		"torus":  torus(50, 10, 12, 24),
		"far":    solidtest.Sphere(16, 50, solid.Vec{1e9, 1e9, 1e9}),
	} {
		if c := contacts(t, m); len(c) > 0 {
			t.Errorf("%s: %d contacts, first %v", name, len(c), c[0])
		}
	}
	two := solid.Join(solidtest.Sphere(16, 50, solid.Vec{}), solidtest.Sphere(16, 50, solid.Vec{20, 0.7, 0.3}))
	pairs := must(solid.Kernel{}.Crossings(t.Context(), two))
	if len(pairs) < 2*16 {
		t.Errorf("spheres: %d crossings", len(pairs))
	}
	const each = 8 * 16 * 16
	for i, p := range pairs {
		if p[0] >= each || p[1] < each || i > 0 && slices.Compare(p[:], pairs[i-1][:]) <= 0 {
			t.Fatalf("crossing %d is %v after %v", i, p, pairs[max(0, i-1)])
		}
	}
	touching := solid.Join(solidtest.Cube(solid.Vec{}), solidtest.Cube(solid.Vec{1, 0, 0}))
	if p := must(solid.Kernel{}.Crossings(t.Context(), touching)); len(p) > 0 {
		t.Errorf("touching cubes cross: %v", p)
	}
	if c := contacts(t, touching); len(c) == 0 {
		t.Error("touching cubes have no contact")
	}
}

// The tree finds what looking at every pair finds, on soups of triangles with
// whole coordinates, where everything that can coincide does.
func TestContactsFindWhatEveryPairFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Map(rapid.IntRange(0, 4), func(i int) float64 { return float64(i) })
		var m solid.Mesh
		for range rapid.IntRange(4, 16).Draw(t, "vertices") {
			m.Vertices = append(m.Vertices, solid.Vec{coord.Draw(t, "x"), coord.Draw(t, "y"), coord.Draw(t, "z")})
		}
		vertex := rapid.Int32Range(0, int32(len(m.Vertices)-1))
		for range rapid.IntRange(2, 24).Draw(t, "triangles") {
			m.Triangles = append(m.Triangles, [3]int32{vertex.Draw(t, "a"), vertex.Draw(t, "b"), vertex.Draw(t, "c")})
		}
		var want []solid.Contact
		for i := range m.Triangles {
			for j := i + 1; j < len(m.Triangles); j++ {
				pair := solid.Mesh{Vertices: m.Vertices, Triangles: [][3]int32{m.Triangles[i], m.Triangles[j]}}
				for _, c := range must(solid.Kernel{Workers: 1}.Contacts(context.Background(), pair)) {
					want = append(want, solid.Contact{Triangles: [2]int32{int32(i), int32(j)}, Kind: c.Kind})
				}
			}
		}
		for _, workers := range []int{1, 3} {
			got := must(solid.Kernel{Workers: workers}.Contacts(context.Background(), m))
			if !slices.Equal(got, want) {
				t.Fatalf("%d workers: %v, want %v", workers, got, want)
			}
		}
	})
}

// slowContact decides by sampling in whole numbers: both triangles are given as
// weights of their corners in twelfths, and a common point is looked for by
// solving for where the edges of one pass the other's plane, in float64 of small
// whole numbers, which is exact enough at this size.
func slowMeets(a, b [3]solid.Vec) bool {
	inside := func(p solid.Vec, t [3]solid.Vec, n solid.Vec) bool {
		for k := range 3 {
			if t[(k+1)%3].Sub(t[k]).Cross(p.Sub(t[k])).Dot(n) < -1e-9 {
				return false
			}
		}
		return true
	}
	for _, pair := range [][2][3]solid.Vec{{a, b}, {b, a}} {
		t, u := pair[0], pair[1]
		n := t[1].Sub(t[0]).Cross(t[2].Sub(t[0]))
		for k := range 3 {
			p, q := u[k], u[(k+1)%3]
			hp, hq := n.Dot(p.Sub(t[0])), n.Dot(q.Sub(t[0]))
			if hp*hq > 0 || hp == hq {
				continue // in one plane: left to the exact test's own cases
			}
			if at := p.Add(q.Sub(p).Scale(hp / (hp - hq))); inside(at, t, n) {
				return true
			}
		}
	}
	return false
}

func TestContactAgreesWithFloats(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Map(rapid.IntRange(-6, 6), func(i int) float64 { return float64(i) })
		var x []float64
		for range 18 {
			x = append(x, coord.Draw(t, "x"))
		}
		var a, b [3]solid.Vec
		for k := range 3 {
			a[k] = solid.Vec{x[3*k], x[3*k+1], x[3*k+2]}
			b[k] = solid.Vec{x[9+3*k], x[10+3*k], x[11+3*k]}
		}
		m := solid.Mesh{Vertices: append(a[:], b[:]...), Triangles: [][3]int32{{0, 1, 2}, {3, 4, 5}}}
		n := a[1].Sub(a[0]).Cross(a[2].Sub(a[0]))
		o := b[1].Sub(b[0]).Cross(b[2].Sub(b[0]))
		if n == (solid.Vec{}) || o == (solid.Vec{}) || n.Cross(o) == (solid.Vec{}) {
			t.Skip("degenerate, or in parallel planes")
		}
		got := must(solid.Kernel{Workers: 1}.Contacts(context.Background(), m))
		if want := slowMeets(a, b); (len(got) > 0) != want {
			t.Fatalf("%v and %v: %v, want contact %t", a, b, got, want)
		}
		// Crossing needs corners strictly on both sides of each other; with those
		// and a contact the segments overlap or meet end to end.
		sides := func(n, p solid.Vec, of [3]solid.Vec) (above, below bool) {
			for _, q := range of {
				above, below = above || n.Dot(q.Sub(p)) > 0, below || n.Dot(q.Sub(p)) < 0
			}
			return above, below
		}
		ua, da := sides(n, a[0], b)
		ub, db := sides(o, b[0], a)
		if len(got) > 0 && got[0].Kind == solid.ContactCrossing && !(ua && da && ub && db) {
			t.Fatalf("%v and %v cross with all corners on one side", a, b)
		}
		if both := ua && da && ub && db; both && len(got) > 0 && got[0].Kind == solid.ContactTouching {
			// End to end: shrunk towards its centroid a little, one lets go.
			for k := range 3 {
				m.Vertices[k] = a[k].Add(a[0].Add(a[1]).Add(a[2]).Scale(1.0 / 3).Sub(a[k]).Scale(1e-6))
			}
			if c := must(solid.Kernel{Workers: 1}.Contacts(context.Background(), m)); len(c) > 0 {
				t.Fatalf("%v and %v touch, but still do when one is smaller", a, b)
			}
		}
	})
}

func TestContactsCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	k := solid.Kernel{Progress: func(step string, _ float64) {
		if step == "contacts" {
			cancel()
		}
	}}
	if _, err := k.Contacts(ctx, solidtest.Sphere(16, 1, solid.Vec{})); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want cancelled", err)
	}
	bad := solid.Mesh{Vertices: []solid.Vec{{math.NaN(), 0, 0}}, Triangles: [][3]int32{{0, 0, 0}}}
	var notSolid *solid.NotSolidError
	if _, err := (solid.Kernel{}).Crossings(t.Context(), bad); !errors.As(err, &notSolid) {
		t.Errorf("NaN: error %v", err)
	}
}

func ExampleKernel_Crossings() {
	a, _ := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{10, 10, 10})
	b, _ := solid.Box(solid.Vec{4, 4, 5}, solid.Vec{6, 6, 20})
	pairs, _ := solid.Kernel{}.Crossings(context.Background(), solid.Join(a, b))
	fmt.Println(len(pairs) > 0)
	// Output: true
}
