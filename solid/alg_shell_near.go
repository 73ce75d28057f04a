package solid

import "math"

// shellNear returns the distance between a triangle and the nearest one of the
// tree, or within if that is less. The corners of the triangle are known to be at
// least that far away, and it crosses none of the tree's.
func (t *Tree) shellNear(c [3]Vec, within float64) float64 {
	if len(t.nodes) == 0 {
		return within
	}
	box := treeBoxOf(&c[0], &c[1], &c[2])
	normal := c[1].Sub(c[0]).Cross(c[2].Sub(c[0]))
	var stack [treeDepth]int32
	for size := 1; size > 0; {
		size--
		node := &t.nodes[stack[size]]
		for k := range 2 {
			if !(node.box[k].shellApart(&box) < within*within) {
				continue
			}
			if node.count[k] == 0 {
				stack[size] = node.at[k]
				size++
				continue
			}
			for _, f := range t.faces[node.at[k] : node.at[k]+node.count[k]] {
				v := t.mesh.Vertices
				o := [3]Vec{v[f[0]], v[f[1]], v[f[2]]}
				if shellBeyond(normal, &c, &o, within) || shellBeyond(o[1].Sub(o[0]).Cross(o[2].Sub(o[0])), &o, &c, within) {
					continue
				}
				within = min(within, math.Sqrt(shellBetween(&c, &o)))
			}
		}
	}
	return within
}

// shellApart returns the square of the distance of two boxes.
func (b *treeBox) shellApart(o *treeBox) (sum float64) {
	for k := range 3 {
		if d := max(o[0][k]-b[1][k], b[0][k]-o[1][k]); d > 0 {
			sum += float64(d * d)
		}
	}
	return sum
}

// shellBeyond reports whether a triangle lies on one side of another's plane and
// no nearer to it than within, but for what slack allows rounding.
func shellBeyond(normal Vec, of, other *[3]Vec, within float64) bool {
	least := within * (1 - 0x1p-32) * normal.Length()
	a, b, c := normal.Dot(other[0].Sub(of[0])), normal.Dot(other[1].Sub(of[0])), normal.Dot(other[2].Sub(of[0]))
	return least > 0 && (a >= least && b >= least && c >= least || a <= -least && b <= -least && c <= -least)
}

// shellBetween returns the square of the distance of two triangles that don't
// cross, left out what is at the corners of the first.
func shellBetween(c, o *[3]Vec) float64 {
	least := math.Inf(1)
	for k := range 3 {
		least = min(least, nearestSquare(o[k], nearestOnTriangle(o[k], c[0], c[1], c[2])))
		for l := range 3 {
			if p, q, inside := nearestOfEdges(c[k], c[(k+1)%3], o[l], o[(l+1)%3]); inside {
				least = min(least, nearestSquare(p, q))
			}
		}
	}
	return least
}
