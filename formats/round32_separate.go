package formats

import (
	"math"

	"scalewright/solid"
)

// maxNudge is the number of steps of single precision a vertex may be moved to
// find a place of its own.
const maxNudge = 1000

// separate gives each fan of triangles its own vertex: of those that share a
// place the flattest keeps it and the others are blunted, moved into what their
// cone encloses by the least step of single precision. It reports whether any did.
//
// Cones at one place don't pass through each other. So either lies beside the
// other, and blunting takes them apart; or one lies in the other, a cavity that
// touches the outside for instance, and the inner one is the sharper.
func (r *rounder) separate() bool {
	fan, order := r.fans()
	owner := make([]int32, len(r.places))
	for i := range owner {
		owner[i] = -1
	}
	var shared []int32 // fans beyond the first of their place
	for _, f := range order {
		if p := r.tail(f); owner[p] < 0 {
			owner[p] = f
		} else {
			shared = append(shared, f)
		}
	}
	cones := map[int32]cone{} // of the fans that share a place; only looked up
	coneOf := func(f int32) cone {
		if _, known := cones[f]; !known {
			cones[f] = r.cone(fan, f)
		}
		return cones[f]
	}
	for i, f := range shared {
		// The flattest so far keeps the place; the other takes its turn to move.
		if p := r.tail(f); math.Abs(coneOf(f).sharp) < math.Abs(coneOf(owner[p]).sharp) {
			owner[p], shared[i] = f, owner[p]
		}
	}
	found := false
	moved := map[int32]int32{} // fan → its new place
	for _, f := range shared {
		p := r.tail(f)
		q, ok := r.freePlace(p, coneOf(f).blunting())
		if !ok {
			continue // the check at the end will say so
		}
		moved[f] = q
		r.done.Nudged++
		r.done.Moved = math.Max(r.done.Moved, r.places[q].Sub(r.places[p]).Length())
		found = true
	}
	if !found {
		return false
	}
	for t := range r.tri {
		for k := range 3 {
			if q, ok := moved[fan[3*t+k]]; ok && !r.dead[t] {
				r.tri[t][k] = q
				r.look(int32(t))
			}
		}
	}
	return true
}

// fans labels each corner with the lowest corner of its fan, and returns those
// labels in ascending order; −1 for dead triangles.
func (r *rounder) fans() (fan, order []int32) {
	fan = make([]int32, len(r.opposite))
	for i := range fan {
		fan[i] = -1
	}
	for c := range int32(len(fan)) {
		if r.dead[c/3] || fan[c] >= 0 {
			continue
		}
		order = append(order, c)
		// Across the edge that leaves the vertex lies the next triangle round it.
		for x := c; fan[x] < 0; x = next(r.opposite[x]) {
			fan[x] = c
		}
	}
	return fan, order
}

// cone is how a fan lies round its vertex.
type cone struct {
	normal solid.Vec // of its triangles, on the average
	// From −1 to 1, how far its edges run against the normal: above 0 they enclose
	// material, below 0 a void; 0 is flat.
	sharp float64
}

// clearlyVoid is the sharpness below which a cone encloses a void. Nearer to flat,
// where rounding says what it likes, it is taken for material: two solids that
// touch in a face are far more common than a cavity that touches the outside in
// one. A guess; a cone of 179° has a sharpness of 0.009.
const clearlyVoid = -0.001

// blunting is the direction into what the cone encloses.
func (c cone) blunting() solid.Vec {
	if c.sharp < clearlyVoid {
		return c.normal
	}
	return c.normal.Scale(-1)
}

func (r *rounder) cone(fan []int32, f int32) cone {
	var normals, edges solid.Vec
	n := 0.0
	for x, first := f, true; first || x != f; x, first = next(r.opposite[x]), false {
		t := r.tri[x/3]
		a, b, c := r.places[t[0]], r.places[t[1]], r.places[t[2]]
		normals = normals.Add(b.Sub(a).Cross(c.Sub(a)).Unit())
		edges = edges.Add(r.places[r.tail(next(x))].Sub(r.places[r.tail(x)]).Unit())
		n++
	}
	normals = normals.Unit()
	return cone{normals, -normals.Dot(edges) / n}
}

// freePlace finds the nearest free place along the main axis of a direction.
func (r *rounder) freePlace(p int32, dir solid.Vec) (int32, bool) {
	axis := 0
	for k := range 3 {
		if math.Abs(dir[k]) > math.Abs(dir[axis]) {
			axis = k
		}
	}
	end := float32(math.Inf(1))
	if dir[axis] < 0 {
		end = float32(math.Inf(-1))
	}
	q := r.places[p]
	for range maxNudge {
		x := math.Nextafter32(float32(q[axis]), end)
		if math.IsInf(float64(x), 0) {
			return 0, false
		}
		// The steps round zero are far smaller than any that matter.
		if least := float32(1e-6); x > -least && x < least && x != 0 {
			x = float32(math.Copysign(float64(least), float64(end)))
		}
		q[axis] = float64(x) + 0
		if _, taken := r.byPlace[q]; !taken {
			return r.placeOf(q), true
		}
	}
	return 0, false
}

// divideCrowded puts a vertex in the middle of all but one of the edges that run
// between the same two vertices. It reports whether there were any.
func (r *rounder) divideCrowded() bool {
	seen := map[[2]int32]bool{}
	found := false
	for h := range int32(len(r.opposite)) {
		o := r.opposite[h]
		if r.dead[h/3] || o < h {
			continue
		}
		a, b := r.tail(h), r.tail(next(h))
		key := [2]int32{min(a, b), max(a, b)}
		if !seen[key] {
			seen[key] = true
			continue
		}
		if r.divide(h) {
			found = true
		}
	}
	return found
}

func (r *rounder) divide(h int32) bool {
	o := r.opposite[h]
	a, b := r.tail(h), r.tail(o)
	mid := r.places[a].Add(r.places[b]).Scale(0.5)
	for k := range 3 {
		mid[k] = float64(float32(mid[k])) + 0
	}
	m := int32(0)
	if at, taken := r.byPlace[mid]; taken {
		free, ok := r.freePlace(at, solid.Vec{1, 0, 0})
		if !ok {
			return false
		}
		m = free
	} else {
		m = r.placeOf(mid)
	}
	r.done.Divided++
	c, d := r.tail(prev(h)), r.tail(prev(o))
	bc, ad := r.opposite[next(h)], r.opposite[next(o)]
	t, u := r.grow(), r.grow()
	// (a, b, c) becomes (a, m, c) and t = (m, b, c); (b, a, d) likewise with u.
	r.tri[h/3][next(h)%3], r.tri[t] = m, [3]int32{m, b, c}
	r.tri[o/3][next(o)%3], r.tri[u] = m, [3]int32{m, a, d}
	r.join(3*t+1, bc)
	r.join(3*t+2, next(h))
	r.join(3*u+1, ad)
	r.join(3*u+2, next(o))
	r.join(h, 3*u)
	r.join(o, 3*t)
	return true
}

func (r *rounder) grow() int32 {
	t := int32(len(r.tri))
	r.tri = append(r.tri, [3]int32{})
	r.dead, r.queued = append(r.dead, false), append(r.queued, false)
	r.opposite = append(r.opposite, -1, -1, -1)
	return t
}

func (r *rounder) mesh() solid.Mesh {
	out := solid.Mesh{Vertices: r.places}
	for t, c := range r.tri {
		if !r.dead[t] {
			out.Triangles = append(out.Triangles, c)
		}
	}
	return out
}
