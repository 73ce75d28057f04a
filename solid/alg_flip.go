package solid

import "math"

// flipsPerTriangle bounds the work of flipThin; a planar triangulation needs far
// fewer, and a wrong one must not turn in circles.
const flipsPerTriangle = 20

// leastFlipGain keeps rounding from flipping a diagonal back and forth where
// four points lie on a circle, as they do all round a turned solid. It is the
// sine of the excess over a half turn of the two angles opposite the diagonal.
const leastFlipGain = 1e-9

// flipThin improves a triangulation: where the two angles opposite a diagonal
// sum to more than a half turn the other diagonal is better (Delaunay), and it
// is taken if the four corners are strictly convex.
//
//	    c                c
//	  / | \            /   \
//	d   |   b   →    d ----- b
//	  \ | /            \   /
//	    a                a
func flipThin(points []Point, p patch) {
	m := Mesh{Triangles: p.triangles} // for its half-edges
	triangles, twin := p.triangles, p.twin
	var todo []int32
	for h, o := range twin {
		if int32(h) < o {
			todo = append(todo, int32(h))
		}
	}
	set := func(h, o int32) {
		twin[h] = o
		if o >= 0 {
			twin[o] = h
		}
	}
	for limit := flipsPerTriangle * len(triangles); len(todo) > 0 && limit > 0; limit-- {
		h := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		o := twin[h]
		if o < 0 {
			continue
		}
		// h runs a → c in triangle (a, c, d); o runs c → a in (c, a, b).
		ia, ic, id, ib := m.tail(h), m.head(h), m.head(nextHalf(h)), m.head(nextHalf(o))
		a, b, c, d := points[ia], points[ib], points[ic], points[id]
		if !better(a, b, c, d) {
			continue
		}
		cd, da, ab, bc := twin[nextHalf(h)], twin[prevHalf(h)], twin[nextHalf(o)], twin[prevHalf(o)]
		t, u := h/3, o/3
		triangles[t], triangles[u] = [3]int32{ia, ib, id}, [3]int32{ib, ic, id}
		set(3*t, ab)
		set(3*t+1, 3*u+2) // b → d and d → b
		set(3*t+2, da)
		set(3*u, bc)
		set(3*u+1, cd)
		for _, side := range [4]int32{3 * t, 3*t + 2, 3 * u, 3*u + 1} {
			if twin[side] >= 0 {
				todo = append(todo, side)
			}
		}
	}
}

// better reports whether diagonal b–d beats a–c in the quadrilateral a, b, c, d.
func better(a, b, c, d Point) bool {
	if Orient(a, b, d) != CounterClockwise || Orient(b, c, d) != CounterClockwise {
		return false
	}
	sinB, cosB := cross2(c.sub(b), a.sub(b)), dot2(c.sub(b), a.sub(b))
	sinD, cosD := cross2(a.sub(d), c.sub(d)), dot2(a.sub(d), c.sub(d))
	// sin(B + D), times the product of the four sides.
	s := float64(sinB*cosD) + float64(cosB*sinD)
	size := math.Hypot(sinB, cosB) * math.Hypot(sinD, cosD)
	return s < -leastFlipGain*size
}
