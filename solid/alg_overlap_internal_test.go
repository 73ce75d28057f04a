package solid

import (
	"slices"
	"testing"
)

// A bipyramid has its belt in the plane of a plate's face, inside one triangle:
// no pair of triangles crosses there, yet the surface passes through. The upper
// half alone, standing on the face, doesn't.
func TestPassThroughAlongEdges(t *testing.T) {
	plate := Mesh{
		Vertices:  []Vec{{-9, -9, 0}, {9, -9, 0}, {0, 9, 0}, {0, 0, -9}},
		Triangles: [][3]int32{{0, 1, 2}, {0, 3, 1}, {1, 3, 2}, {2, 3, 0}},
	}
	belt := []Vec{{-1, -1, 0}, {1, -1, 0}, {0, 1, 0}, {0, 0, 2}, {0, 0, -2}}
	whole := Mesh{belt, [][3]int32{{0, 1, 3}, {1, 2, 3}, {2, 0, 3}, {1, 0, 4}, {2, 1, 4}, {0, 2, 4}}}
	upper := Mesh{belt, [][3]int32{{0, 1, 3}, {1, 2, 3}, {2, 0, 3}, {0, 2, 1}}}
	for name, c := range map[string]struct {
		other Mesh
		want  bool
	}{"through": {whole, true}, "standing on it": {upper, false}} {
		trees, err := Kernel{}.closedTrees(t.Context(), plate, c.other)
		if err != nil {
			t.Fatal(err)
		}
		there, err := Kernel{}.overlap(t.Context(), trees)
		if err != nil {
			t.Fatal(err)
		}
		if slices.ContainsFunc(there.Contacts, func(c Contact) bool { return c.Kind == ContactCrossing }) {
			t.Errorf("%s: a pair crosses", name)
		}
		if got := passThrough(plate, c.other, there.Contacts); got != c.want {
			t.Errorf("%s: %t, want %t", name, got, c.want)
		}
		trees[0], trees[1] = trees[1], trees[0]
		back, err := Kernel{}.overlap(t.Context(), trees)
		if err != nil {
			t.Fatal(err)
		}
		if got := passThrough(c.other, plate, back.Contacts); got != c.want || (back.Meeting == Overlapping) != c.want {
			t.Errorf("%s, the other way: %t, want %t; %v", name, got, c.want, back.Meeting)
		}
	}
}
