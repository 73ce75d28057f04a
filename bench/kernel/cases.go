package main

import (
	"context"

	"scalewright/solid"
	"scalewright/solid/solidtest"
)

// result is what a case gives: the first solid of the result, or a section.
type result struct {
	mesh  solid.Mesh
	slice *solid.Slice
}

func (r result) area() float64 {
	if r.slice != nil {
		return r.slice.Area
	}
	return r.mesh.Area()
}

// benchCase is an operation on solids made by a recipe; cases.mjs has the same by
// name.
type benchCase struct {
	name   string
	what   string
	inputs func(n int) []solid.Mesh
	run    func(ctx context.Context, in []solid.Mesh) (result, error)
	// At n = 256, by clipping in long double, independently of both programs;
	// 0 where there is none.
	volume, area float64
	once         bool  // too long to be repeated
	grows        []int // values of n that show how time grows; none: it is not asked
}

var cases = []benchCase{
	{
		name: "c cut", what: "ball of 524,288, both sides of z = 3", inputs: ball, run: cutBall,
		volume: 238259.877768254127, grows: ofOneBall,
	},
	{
		name: "c section", what: "the same, section at z = 3", inputs: ball, run: sectionOfBall,
		area: 7825.61840364233, grows: ofOneBall,
	},
}

func ball(n int) []solid.Mesh { return []solid.Mesh{solidtest.Sphere(n, 50, solid.Vec{})} }

func cutBall(_ context.Context, in []solid.Mesh) (result, error) {
	above, _, err := solid.Cut(in[0], solid.PlaneZ(3))
	return result{mesh: above}, err
}

func sectionOfBall(_ context.Context, in []solid.Mesh) (result, error) {
	s, err := solid.Section(in[0], solid.PlaneZ(3))
	return result{slice: &s}, err
}
