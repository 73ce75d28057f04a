package solid

import "math"

// thicknessBall returns the diameter of the largest ball that touches triangle f
// at its centroid. It is the shrinking ball of J. Ma, S. W. Bae and S. Choi,
// "3D medial axis point approximation using nearest neighbors and the normal
// field", Visual Comput. 28 (2012) 7–19: from one as wide as the ray is long the
// ball is made smaller so that it only touches the nearest thing inside it, until
// nothing is. Theirs looks anew at a cloud of points after every step; this looks
// once through the tree, since every ball lies in the one before it: what that
// didn't hold need not be looked at again. What is near the point of touch comes
// first.
func (t *Tree) thicknessBall(f int32, widest float64, slabs []treeSlab) float64 {
	if math.IsInf(widest, 1) {
		return widest
	}
	foot, normal := t.mesh.thicknessFoot(f)
	b := touchingBall{foot: foot, inward: normal.Scale(-1)}
	b.resize(widest / 2)
	// What is within half the triangle's height comes first: on a round body the
	// neighbours make the ball so small that it is clear of nearly all the rest.
	p, q, r := t.mesh.corners(t.mesh.Triangles[f])
	twice := q.Sub(p).Cross(r.Sub(p))
	around := twice.Dot(twice) / (4 * max(nearestSquare(p, q), nearestSquare(q, r), nearestSquare(r, p)))
	t.approach(&foot, around, func(i int32) float64 {
		if t.order[i] != f {
			t.shrink(&b, t.faces[i])
		}
		return around
	})
	// The stack holds boxes: child 0 or 1 of node i is 2·i or 2·i+1. They are
	// looked at when they are taken up, for the ball has shrunk meanwhile.
	var stack [2 * treeDepth]int32
	stack[0], stack[1] = 0, 1
	for size := 2; size > 0; {
		size--
		child := stack[size]
		node, k := &t.nodes[child/2], child%2
		if node.box[k].square(&b.centre) >= b.entered || slabs[child].clear(&b) {
			continue
		}
		if n := node.count[k]; n > 0 {
			for i := node.at[k]; i < node.at[k]+n; i++ {
				if t.order[i] != f {
					t.shrink(&b, t.faces[i])
				}
			}
			continue
		}
		first := 2 * node.at[k]
		below := &t.nodes[node.at[k]]
		if below.box[0].square(&b.foot) < below.box[1].square(&b.foot) {
			first++
		}
		stack[size], stack[size+1] = first, first^1
		size += 2
	}
	return 2 * b.radius
}

// touchingBall is a ball that touches a face at one point from inside.
type touchingBall struct {
	foot, inward Vec
	radius       float64
	centre       Vec
	entered      float64 // the square of the distance below which a thing is in it
}

// ballRounding is the share of its radius by which a ball must be entered to be
// made smaller: each step loses a few roundings, and steps that only follow them
// would never end.
const ballRounding = 0x1p-40

func (b *touchingBall) resize(radius float64) {
	b.radius = radius
	b.centre = b.foot.Add(b.inward.Scale(radius))
	r := radius * (1 - ballRounding)
	b.entered = float64(r * r)
}

// shrink makes the ball smaller until a triangle is not in it.
func (t *Tree) shrink(b *touchingBall, face [3]int32) {
	v := t.mesh.Vertices
	for {
		q := nearestOnTriangle(b.centre, v[face[0]], v[face[1]], v[face[2]])
		if nearestSquare(q, b.centre) >= b.entered {
			return
		}
		// The ball through q has |q − foot|² = 2·radius·depth, depth being how far
		// q is below the face. A point in the ball is below it but for rounding.
		d := q.Sub(b.foot)
		depth := d.Dot(b.inward)
		smaller := d.Dot(d) / (2 * depth)
		if !(depth > 0 && smaller < b.radius) {
			return
		}
		b.resize(smaller)
	}
}
