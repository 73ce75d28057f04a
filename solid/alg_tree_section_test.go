package solid_test

import (
	"errors"
	"fmt"
	"reflect"
	"testing"

	"pgregory.net/rapid"
	"scalewright/solid"
)

// Only the way to the triangles is another: the section has the same bits.
func TestTreeSectionIsSection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := someSolid(t)
		p := somePlane(t, m)
		want, err := solid.Section(m, p)
		if err != nil {
			t.Fatal(err)
		}
		got, err := must(solid.NewTree(m)).Section(p)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("through the tree %v, want %v", got, want)
		}
	})
}

func TestTreeSectionRefuses(t *testing.T) {
	tree := must(solid.NewTree(box(0, 0, 0, 1, 1, 1)))
	var value *solid.ValueError
	if _, err := tree.Section(solid.Plane{}); !errors.As(err, &value) {
		t.Errorf("no plane: error %v, want a ValueError", err)
	}
	open := box(0, 0, 0, 1, 1, 1)
	open.Triangles = open.Triangles[:10]
	tree = must(solid.NewTree(open))
	var notSolid *solid.NotSolidError
	refused := 0
	for _, p := range []solid.Plane{
		{Normal: solid.Vec{1, 0, 0}, Offset: 0.5}, {Normal: solid.Vec{0, 1, 0}, Offset: 0.5}, solid.PlaneZ(0.5),
	} {
		if _, err := tree.Section(p); errors.As(err, &notSolid) {
			refused++
		}
	}
	if refused == 0 {
		t.Error("a section through a hole was not refused")
	}
	if s := must((&solid.Tree{}).Section(solid.PlaneZ(0))); len(s.Regions) != 0 {
		t.Errorf("section of nothing: %v", s)
	}
}

func ExampleTree_Section() {
	cube, _ := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{10, 10, 10})
	tree, _ := solid.NewTree(cube)
	s, _ := tree.Section(solid.PlaneZ(4))
	fmt.Println(s.Area, s.Perimeter)
	// Output: 100 40
}
