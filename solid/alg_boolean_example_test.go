package solid_test

import (
	"context"
	"fmt"

	"scalewright/solid"
)

// A ball bored for a pipe, in one operation with a window in its side.
func ExampleKernel_Subtract() {
	ctx := context.Background()
	var k solid.Kernel
	ball, _ := solid.Sphere(solid.Vec{}, 50, 32)
	pipe, _ := solid.Turn([]solid.PointRZ{{R: 0, Z: -60}, {R: 20, Z: -60}, {R: 20, Z: 60}, {R: 0, Z: 60}}, 64)
	window, _ := solid.Box(solid.Vec{0, -10, -10}, solid.Vec{60, 10, 10})
	bored, err := k.Subtract(ctx, ball, pipe, window)
	if err != nil {
		fmt.Println(err)
		return
	}
	genus, _ := bored.Genus()
	fmt.Printf("closed: %v, ways through: %d\n", bored.Closed(), genus+1)
	// Output: closed: true, ways through: 3
}

// Two blocks that share a face become one, two that share an edge stay two.
func ExampleKernel_Union() {
	ctx := context.Background()
	var k solid.Kernel
	block, _ := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{10, 10, 10})
	for _, move := range []solid.Vec{{10, 0, 0}, {10, 10, 0}} {
		both, err := k.Union(ctx, block, block.Translate(move))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("parts: %d, %.0f mm³\n", len(both.Components()), both.Volume())
	}
	// Output:
	// parts: 1, 2000 mm³
	// parts: 2, 2000 mm³
}

func ExampleKernel_Intersect() {
	var k solid.Kernel
	a, _ := solid.Box(solid.Vec{0, 0, 0}, solid.Vec{10, 10, 10})
	b, _ := solid.Box(solid.Vec{5, 5, 5}, solid.Vec{15, 15, 15})
	both, err := k.Intersect(context.Background(), a, b)
	fmt.Println(both.Bounds(), both.Volume(), err)
	// Output: {[5 5 5] [10 10 10]} 125 <nil>
}
