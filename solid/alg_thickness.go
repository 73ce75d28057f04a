package solid

import (
	"context"
	"math"
	"slices"
)

// ThicknessOptions say which figures [Kernel.Thickness] finds.
type ThicknessOptions struct {
	// Balls asks for the largest balls as well, which take several times as long
	// as the rays.
	Balls bool
}

// Thickness is how thick a solid is at each of its triangles.
type Thickness struct {
	Ray  Thicknesses // the way through, straight in from the triangle's centroid
	Ball Thicknesses // the diameter of the largest ball inside that touches it there; empty unless asked for
}

// Thicknesses are one figure a triangle, and what they come to.
type Thicknesses struct {
	// Of holds the figure of every triangle; +Inf where nothing was met: the mesh
	// is open there, or the triangle is degenerate and has no inside.
	Of []float64
	// Min, P50 and P99 are taken over the finite ones, each triangle counting
	// once whatever its area: P50 is the least figure that half of them don't
	// exceed. All are 0 where none is finite.
	Min, P50, P99 float64
	// At is the lowest triangle that has the least figure; −1 where none is finite.
	At int32
	// Measured is how many are finite.
	Measured int
}

// thicknessGrain is the number of triangles of a run, of some microseconds each.
const thicknessGrain = 1 << 10

// Thickness measures the wall at every triangle in two ways.
//
// The ray starts at the centroid, runs against the normal and ends where it
// leaves the solid; the triangle itself doesn't count. It is quick, but says
// little where it meets the other side aslant.
//
// The ball is the largest that touches the triangle at its centroid and holds
// nothing of the surface inside: twice its radius is the thickness. At a
// concave edge it is small only where the material is; at a convex one it is
// small near the edge, for there the solid is thin. On a flat that stands for a
// part of a round it is the ball of the flats, not of the round.
//
// The mesh should be closed. Numbers that can't be are refused as [Kernel.Tree]
// does.
func (k Kernel) Thickness(ctx context.Context, m Mesh, o ThicknessOptions) (Thickness, error) {
	tree, err := k.Tree(ctx, m)
	if err != nil {
		return Thickness{}, err
	}
	n := len(m.Triangles)
	var out Thickness
	out.Ray.Of = make([]float64, n)
	var below []treeSlab
	if o.Balls {
		out.Ball.Of = make([]float64, n)
		if below, err = k.treeSlabs(ctx, tree); err != nil {
			return Thickness{}, err
		}
	}
	// In the order of the tree neighbours follow each other, and so do the parts
	// of the tree they look at.
	err = k.each(ctx, "thickness", n, thicknessGrain, func(lo, hi int) {
		for _, f := range tree.order[lo:hi] {
			ray := tree.thicknessRay(f)
			out.Ray.Of[f] = ray
			if o.Balls {
				out.Ball.Of[f] = tree.thicknessBall(f, ray, below)
			}
		}
	})
	if err != nil {
		return Thickness{}, err
	}
	out.Ray.sum()
	out.Ball.sum()
	return out, nil
}

// thicknessFoot returns the centroid of a triangle and its unit normal; the
// normal is zero where the triangle is degenerate.
func (m Mesh) thicknessFoot(f int32) (foot, normal Vec) {
	a, b, c := m.corners(m.Triangles[f])
	return a.Add(b).Add(c).Scale(1.0 / 3), b.Sub(a).Cross(c.Sub(a)).Unit()
}

func (t *Tree) thicknessRay(f int32) float64 {
	foot, normal := t.mesh.thicknessFoot(f)
	if normal == (Vec{}) {
		return math.Inf(1)
	}
	r := newRay(foot, normal.Scale(-1), math.Inf(1))
	hit, ok := t.firstHit(&r, f, true)
	if !ok {
		return math.Inf(1)
	}
	return hit.T
}

// sum finds the figures over all triangles. P50 and P99 are nearest ranks.
func (t *Thicknesses) sum() {
	t.At = -1
	finite := make([]float64, 0, len(t.Of))
	for i, x := range t.Of {
		if math.IsInf(x, 1) {
			continue
		}
		if t.At < 0 || x < t.Min {
			t.Min, t.At = x, int32(i)
		}
		finite = append(finite, x)
	}
	t.Measured = len(finite)
	if t.Measured == 0 {
		return
	}
	slices.Sort(finite)
	rank := func(percent int) float64 { return finite[(len(finite)*percent+99)/100-1] }
	t.P50, t.P99 = rank(50), rank(99)
}
