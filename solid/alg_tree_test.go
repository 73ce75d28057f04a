package solid_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"scalewright/solid"
)

// flatMesh has triangles with no area: a point, a segment, corners in line.
func flatMesh() solid.Mesh {
	return solid.Mesh{
		Vertices:  []solid.Vec{{0, 0, 0}, {1, 0, 0}, {2, 0, 0}, {0, 0, 0}},
		Triangles: [][3]int32{{0, 0, 0}, {0, 1, 0}, {0, 1, 2}, {0, 3, 0}},
	}
}

func TestTreeRefuses(t *testing.T) {
	ok := box(0, 0, 0, 1, 1, 1)
	change := func(f func(*solid.Mesh)) solid.Mesh {
		m := solid.Join(ok)
		f(&m)
		return m
	}
	var notSolid *solid.NotSolidError
	for name, m := range map[string]solid.Mesh{
		"NaN":            change(func(m *solid.Mesh) { m.Vertices[3][1] = math.NaN() }),
		"infinite":       change(func(m *solid.Mesh) { m.Vertices[0][2] = math.Inf(-1) }),
		"no such vertex": change(func(m *solid.Mesh) { m.Triangles[5][1] = 8 }),
		"index below 0":  change(func(m *solid.Mesh) { m.Triangles[5][1] = -1 }),
	} {
		if _, err := solid.NewTree(m); !errors.As(err, &notSolid) {
			t.Errorf("%s: error %v, want a NotSolidError", name, err)
		}
	}
	var value *solid.ValueError
	if _, err := solid.NewTree(ok.Translate(solid.Vec{1e51, 0, 0})); !errors.As(err, &value) {
		t.Errorf("too far away: error %v, want a ValueError", err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := (solid.Kernel{}).Tree(ctx, ok); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: error %v", err)
	}
}

// A tree of nothing, and one of triangles without area, answer like a surface
// that isn't met.
func TestTreeOfLittle(t *testing.T) {
	nearest := func(tree *solid.Tree, p solid.Vec) (solid.Nearest, bool) {
		n, found, err := tree.Nearest(p, math.Inf(1))
		if err != nil {
			t.Fatal(err)
		}
		return n, found
	}
	ray := must(solid.NewRay(solid.Vec{0.5, 0, -1}, solid.Vec{0, 0, 1}, math.Inf(1)))
	for name, tree := range map[string]*solid.Tree{
		"zero value": {}, "empty": must(solid.NewTree(solid.Mesh{})), "flat": must(solid.NewTree(flatMesh())),
	} {
		if h, hit := tree.FirstHit(ray); hit {
			t.Errorf("%s: hit at %v", name, h)
		}
		if h := tree.Hits(ray); len(h) > 0 {
			t.Errorf("%s: hits %v", name, h)
		}
		if got := must(tree.Locate(solid.Vec{0.5, 1, 0})); got != solid.Outside {
			t.Errorf("%s: place %d, want outside", name, got)
		}
		n, found := nearest(tree, solid.Vec{1.5, 3, 4})
		if want := name == "flat"; found != want || found && (n != solid.Nearest{Distance: 5, Triangle: 2, At: solid.Vec{1.5, 0, 0}}) {
			t.Errorf("%s: nearest %v, %t", name, n, found)
		}
		if got, want := must(tree.Locate(solid.Vec{1.25, 0, 0})), name == "flat"; (got == solid.OnSurface) != want {
			t.Errorf("%s: place %d of a point on the segment", name, got)
		}
	}
	var zero solid.Ray
	if _, hit := must(solid.NewTree(box(-1, -1, -1, 1, 1, 1))).FirstHit(zero); hit {
		t.Error("the zero ray meets something")
	}
}
