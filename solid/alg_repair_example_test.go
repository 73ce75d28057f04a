package solid_test

import (
	"context"
	"errors"
	"fmt"

	"scalewright/solid"
)

func ExampleKernel_Repair() {
	// A cube as a careless program writes it: every triangle with corners of its
	// own, one facet missing, one the wrong way round.
	cube, _ := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{10, 10, 10})
	var found solid.Mesh
	for i, t := range cube.Triangles {
		switch i {
		case 2:
			continue
		case 7:
			t[1], t[2] = t[2], t[1]
		}
		n := int32(len(found.Vertices))
		for _, v := range t {
			found.Vertices = append(found.Vertices, cube.Vertices[v])
		}
		found.Triangles = append(found.Triangles, [3]int32{n, n + 1, n + 2})
	}

	made, changes, err := solid.Kernel{}.Repair(context.Background(), found, solid.RepairOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range changes {
		fmt.Println(c.Kind, c.Count)
	}
	fmt.Println("closed:", made.Closed(), "volume:", made.Volume())

	// Two facets alone are no solid.
	found.Triangles = found.Triangles[:2]
	_, _, err = solid.Kernel{}.Repair(context.Background(), found, solid.RepairOptions{})
	if refusal, ok := errors.AsType[*solid.RepairError](err); ok {
		fmt.Println(refusal.Reason)
	}
	// Output:
	// equal vertex welded 25
	// triangle flipped 1
	// hole closed 1
	// closed: true volume: 1000
	// the surface is open
}
