package solid_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"scalewright/solid"
	"scalewright/solid/solidtest"
)

func TestTry(t *testing.T) {
	ctx := context.Background()
	var k solid.Kernel
	a := solidtest.Sphere(256, 50, solid.Vec{})
	b := solidtest.Sphere(256, 50, solid.Vec{20, 0, 0})
	g := solidtest.Sphere(256, 50, solid.Vec{20, 0.7, 0.3})
	say := func(name string, f func() (solid.Mesh, error)) {
		at := time.Now()
		m, err := f()
		d := time.Since(at)
		if err != nil {
			t.Error(name, err)
			return
		}
		faults := m.Check()
		fmt.Printf("%-12s %7d triangles  volume %.12f  faults %d  %v\n", name, len(m.Triangles), m.Volume(), len(faults), d)
		for i, f := range faults {
			if i > 3 {
				break
			}
			fmt.Println("   ", f)
		}
	}
	say("a-b", func() (solid.Mesh, error) { return k.Subtract(ctx, a, b) })
	say("a+b", func() (solid.Mesh, error) { return k.Union(ctx, a, b) })
	say("a*b", func() (solid.Mesh, error) { return k.Intersect(ctx, a, b) })
	say("a-g", func() (solid.Mesh, error) { return k.Subtract(ctx, a, g) })
	tube := solidtest.Tube(512, 200)
	say("b", func() (solid.Mesh, error) { return k.Subtract(ctx, tube, solidtest.Drills()...) })
	c := solidtest.Cube
	say("c-c", func() (solid.Mesh, error) { return k.Subtract(ctx, c(solid.Vec{}), c(solid.Vec{})) })
	say("c-face", func() (solid.Mesh, error) { return k.Subtract(ctx, c(solid.Vec{}), c(solid.Vec{1, 0, 0})) })
	say("c+face", func() (solid.Mesh, error) { return k.Union(ctx, c(solid.Vec{}), c(solid.Vec{1, 0, 0})) })
	say("c+edge", func() (solid.Mesh, error) { return k.Union(ctx, c(solid.Vec{}), c(solid.Vec{1, 1, 0})) })
	say("c+vertex", func() (solid.Mesh, error) { return k.Union(ctx, c(solid.Vec{}), c(solid.Vec{1, 1, 1})) })
	say("c*face", func() (solid.Mesh, error) { return k.Intersect(ctx, c(solid.Vec{}), c(solid.Vec{1, 0, 0})) })
	say("c*half", func() (solid.Mesh, error) { return k.Intersect(ctx, c(solid.Vec{}), c(solid.Vec{.5, .5, .5})) })
	say("c-half", func() (solid.Mesh, error) { return k.Subtract(ctx, c(solid.Vec{}), c(solid.Vec{.5, .5, .5})) })
	say("c+half", func() (solid.Mesh, error) { return k.Union(ctx, c(solid.Vec{}), c(solid.Vec{.5, 0, 0})) })
	var grid []solid.Mesh
	for i := range 8000 {
		grid = append(grid, c(solid.Vec{float64(i % 20), float64(i / 20 % 20), float64(i / 400)}))
	}
	if false { return }
	grid = grid[:0]
	say("grid", func() (solid.Mesh, error) { return k.Union(ctx, grid...) })
}
