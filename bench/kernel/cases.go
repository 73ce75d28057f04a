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
	// If set, what is built once of the inputs, outside the time, and gives run.
	built func(ctx context.Context, in []solid.Mesh) (run func(ctx context.Context, in []solid.Mesh) (result, error), err error)
	// At n = 256, by clipping in long double, independently of both programs;
	// 0 where there is none.
	volume, area float64
	once         bool  // too long to be repeated
	grows        []int // values of n that show how time grows; none: it is not asked
}

// References of booleans and cuts: clipping in long double, independently of both
// programs.
var cases = []benchCase{
	{
		name: "a A-B", what: "two balls of 524,288, mirrored in x = 10: every crossing is degenerate",
		inputs: mirrored, run: subtract, volume: 154983.379663855339, grows: ofTwoBalls,
	},
	{name: "a A+B", what: "their union", inputs: mirrored, run: unite, volume: 678569.986729571889},
	{name: "a A*B", what: "what they share", inputs: mirrored, run: intersect, volume: 368603.227401861212},
	{name: "a-gen A-B", what: "the same, moved out of the mirror", inputs: general, run: subtract, grows: ofTwoBalls},
	{name: "b", what: "tube of 409,600 less 100 cylinders", inputs: drilled, run: subtract, grows: ofTube},
	{
		name: "c cut", what: "ball of 524,288, both sides of z = 3", inputs: ball, run: cutBall,
		volume: 238259.877768254127, grows: ofOneBall,
	},
	{
		name: "c section", what: "the same, section at z = 3", inputs: ball, run: sectionOfBall,
		area: 7825.61840364233, grows: ofOneBall,
	},
	{
		name: "c in tree", what: "the same section once a tree is built", inputs: ball, built: treeOfBall,
		area: 7825.61840364233, // how it grows is not asked: it looks at the triangles near the plane only
	},
	{name: "d grid", what: "20³ touching cubes united", inputs: grid, run: unite, volume: 8000, area: 2400},
	{name: "e", what: "ball less itself turned by 1e-9", inputs: turnedByAHair, run: subtract, once: true},
}

func ball(n int) []solid.Mesh { return []solid.Mesh{solidtest.Sphere(n, 50, solid.Vec{})} }

func cutBall(_ context.Context, in []solid.Mesh) (result, error) {
	above, _, err := solid.Cut(in[0], solid.PlaneZ(3))
	return result{mesh: above}, err
}

func treeOfBall(ctx context.Context, in []solid.Mesh) (func(context.Context, []solid.Mesh) (result, error), error) {
	tree, err := kernel.Tree(ctx, in[0])
	if err != nil {
		return nil, err
	}
	return func(context.Context, []solid.Mesh) (result, error) {
		s, err := tree.Section(solid.PlaneZ(3))
		return result{slice: &s}, err
	}, nil
}

// ready returns the inputs and what is timed on them.
func (c benchCase) ready(ctx context.Context, n int) ([]solid.Mesh, func(context.Context, []solid.Mesh) (result, error), error) {
	in := c.inputs(n)
	if c.built == nil {
		return in, c.run, nil
	}
	run, err := c.built(ctx, in)
	return in, run, err
}

func sectionOfBall(_ context.Context, in []solid.Mesh) (result, error) {
	s, err := solid.Section(in[0], solid.PlaneZ(3))
	return result{slice: &s}, err
}
