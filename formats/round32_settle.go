package formats

import (
	"math"

	"scalewright/solid"
)

// rounder holds the mesh while it is mended. Corners name places: different
// vertices at one place have one number until separate gives them their own.
type rounder struct {
	places   []solid.Vec
	byPlace  map[solid.Vec]int32
	tri      [][3]int32
	opposite []int32
	dead     []bool
	todo     []int32 // triangles to look at
	queued   []bool
	done     Rounding
	err      error
}

func newRounder(m solid.Mesh, opposite []int32) *rounder {
	r := &rounder{
		byPlace:  make(map[solid.Vec]int32, len(m.Vertices)),
		tri:      make([][3]int32, len(m.Triangles)),
		opposite: opposite,
		dead:     make([]bool, len(m.Triangles)),
		queued:   make([]bool, len(m.Triangles)),
	}
	index := make([]int32, len(m.Vertices))
	for i, p := range m.Vertices {
		var q solid.Vec
		for k := range 3 {
			q[k] = float64(float32(p[k])) + 0 // −0 becomes 0
			if math.IsInf(q[k], 0) {
				r.err = &solid.ValueError{Name: "coordinate", Value: p[k], Want: "within single precision"}
				return r
			}
		}
		r.done.Moved = math.Max(r.done.Moved, q.Sub(p).Length())
		index[i] = r.placeOf(q)
	}
	for i, t := range m.Triangles {
		r.tri[i] = [3]int32{index[t[0]], index[t[1]], index[t[2]]}
	}
	for i := len(r.tri) - 1; i >= 0; i-- {
		r.look(int32(i))
	}
	return r
}

func (r *rounder) placeOf(p solid.Vec) int32 {
	at, seen := r.byPlace[p]
	if !seen {
		at = int32(len(r.places))
		r.byPlace[p] = at
		r.places = append(r.places, p)
	}
	return at
}

func (r *rounder) look(t int32) {
	if !r.queued[t] {
		r.queued[t] = true
		r.todo = append(r.todo, t)
	}
}

func next(h int32) int32 { return h - h%3 + (h%3+1)%3 }
func prev(h int32) int32 { return h - h%3 + (h%3+2)%3 }

func (r *rounder) tail(h int32) int32 { return r.tri[h/3][h%3] }

// join makes two half-edges each other's opposite.
func (r *rounder) join(g, h int32) {
	r.opposite[g], r.opposite[h] = h, g
	r.look(g / 3)
	r.look(h / 3)
}

// stepsPerTriangle bounds settle: swapping could go round in a circle where a
// whole patch fell onto a line.
const stepsPerTriangle = 64

// settle takes away or mends every triangle without area that it can.
func (r *rounder) settle() {
	for limit := stepsPerTriangle * (len(r.tri) + 1); len(r.todo) > 0 && limit > 0; limit-- {
		t := r.todo[len(r.todo)-1]
		r.todo = r.todo[:len(r.todo)-1]
		r.queued[t] = false
		if r.dead[t] || r.collapse(t) || r.fold(t) {
			continue
		}
		r.swap(t)
	}
}

// collapse removes a triangle with two corners at one place; the neighbours
// across its other two edges, which now coincide, become each other's.
func (r *rounder) collapse(t int32) bool {
	c := r.tri[t]
	if c[0] == c[1] && c[1] == c[2] {
		// All three neighbours have an edge that is a point and go as well.
		r.dead[t] = true
		r.done.Collapsed++
		return true
	}
	for k := range int32(3) {
		h := 3*t + k
		if c[k] != c[(k+1)%3] {
			continue
		}
		r.dead[t] = true
		r.done.Collapsed++
		r.seam(next(h), prev(h))
		return true
	}
	return false
}

// seam joins what lies across two half-edges whose triangles go.
func (r *rounder) seam(g, h int32) {
	if r.opposite[g] != h {
		r.join(r.opposite[g], r.opposite[h])
	}
}

// fold removes a triangle and a neighbour that lies on it face to face.
func (r *rounder) fold(t int32) bool {
	for k := range int32(3) {
		h := 3*t + k
		o := r.opposite[h]
		if r.tail(prev(h)) != r.tail(prev(o)) {
			continue
		}
		r.dead[t], r.dead[o/3] = true, true
		r.done.Folded += 2
		r.seam(next(h), prev(o))
		r.seam(prev(h), next(o))
		return true
	}
	return false
}

// swap turns the long edge of a triangle that fell flat:
//
//	    d                d
//	  /   \            / | \
//	a ----- c   →    a   |   c      b lies on a–c
//	  \ b /            \ b /
func (r *rounder) swap(t int32) {
	c := r.tri[t]
	if !solid.Collinear(r.places[c[0]], r.places[c[1]], r.places[c[2]]) {
		return
	}
	h, longest := 3*t, -1.0
	for k := range int32(3) {
		if l := r.places[c[(k+1)%3]].Sub(r.places[c[k]]).Length(); l > longest {
			h, longest = 3*t+k, l
		}
	}
	// h runs c → a in (c, a, b); o runs a → c in (a, c, d).
	o := r.opposite[h]
	u := o / 3
	va, vb, vc, vd := r.tail(next(h)), r.tail(prev(h)), r.tail(h), r.tail(prev(o))
	ab, bc, cd, da := r.opposite[next(h)], r.opposite[prev(h)], r.opposite[next(o)], r.opposite[prev(o)]
	if u == t {
		return
	}
	r.done.Swapped++
	r.tri[t], r.tri[u] = [3]int32{va, vb, vd}, [3]int32{vb, vc, vd}
	// An outer edge may be the opposite of another of the four; sides says
	// where each half-edge of the old pair went.
	sides := map[int32]int32{next(h): 3 * t, prev(h): 3 * u, next(o): 3*u + 1, prev(o): 3*t + 2}
	moved := func(x int32) int32 {
		if y, ok := sides[x]; ok {
			return y
		}
		return x
	}
	ab, bc, cd, da = moved(ab), moved(bc), moved(cd), moved(da)
	r.join(3*t, ab)
	r.join(3*u, bc)
	r.join(3*u+1, cd)
	r.join(3*t+2, da)
	r.join(3*t+1, 3*u+2)
}
