package main

import (
	"context"

	"scalewright/solid"
	"scalewright/solid/solidtest"
)

// kernel is run with every processor, as its users would.
var kernel solid.Kernel

func subtract(ctx context.Context, in []solid.Mesh) (result, error) {
	m, err := kernel.Subtract(ctx, in[0], in[1:]...)
	return result{mesh: m}, err
}

func unite(ctx context.Context, in []solid.Mesh) (result, error) {
	m, err := kernel.Union(ctx, in...)
	return result{mesh: m}, err
}

func intersect(ctx context.Context, in []solid.Mesh) (result, error) {
	m, err := kernel.Intersect(ctx, in...)
	return result{mesh: m}, err
}

func twoBalls(n int, centre solid.Vec) []solid.Mesh {
	return []solid.Mesh{solidtest.Sphere(n, 50, solid.Vec{}), solidtest.Sphere(n, 50, centre)}
}

func mirrored(n int) []solid.Mesh { return twoBalls(n, solid.Vec{20, 0, 0}) }

func general(n int) []solid.Mesh { return twoBalls(n, solid.Vec{20, 0.7, 0.3}) }

func drilled(n int) []solid.Mesh {
	return append([]solid.Mesh{solidtest.Tube(2*n, max(2, n*200/256))}, solidtest.Drills()...)
}

func grid(int) []solid.Mesh {
	var out []solid.Mesh
	for i := range 20 {
		for j := range 20 {
			for k := range 20 {
				out = append(out, solidtest.Cube(solid.Vec{float64(i), float64(j), float64(k)}))
			}
		}
	}
	return out
}

func turnedByAHair(n int) []solid.Mesh {
	a := solidtest.Sphere(n, 50, solid.Vec{})
	b := solid.Mesh{Vertices: make([]solid.Vec, len(a.Vertices)), Triangles: a.Triangles}
	const hair = 1e-9
	for i, p := range a.Vertices {
		b.Vertices[i] = solid.Vec{p[0] - float64(hair*p[1]), p[1] + float64(hair*p[0]), p[2]}
	}
	return []solid.Mesh{a, b}
}
