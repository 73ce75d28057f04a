package solid_test

import (
	"context"
	"fmt"

	"scalewright/solid"
)

func ExampleKernel_Project() {
	block, _ := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{60, 40, 20})
	lid, _ := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{60, 40, 5})
	var k solid.Kernel
	p, err := k.Project(context.Background(), []solid.Placed{
		{ID: "block", Mesh: block, At: solid.Identity()},
		{ID: "lid", Mesh: lid, At: solid.Translation(solid.Vec{0, 0, 50})}, // pulled off
	}, solid.Isometric())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, id := range []string{"block", "lid"} {
		visible, hidden := 0.0, 0.0
		for _, l := range p.Lines {
			switch {
			case l.Solid != id:
			case l.Hidden:
				hidden += l.Length()
			default:
				visible += l.Length()
			}
		}
		fmt.Printf("%s: %.1f mm seen, %.1f mm hidden\n", id, visible, hidden)
	}
	// Output:
	// block: 261.3 mm seen, 130.6 mm hidden
	// lid: 257.2 mm seen, 85.7 mm hidden
}
