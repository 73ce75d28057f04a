package solid

import (
	"math"
	"slices"
)

// leastClosed is by how much of the open length a longer merging distance must
// close more than a shorter one to be taken instead.
const leastClosed = 0x1p-10

// join is step 2. It welds; then, each time anew from there, merges at each
// distance to be tried until no edge is open. Where none does, it goes up the
// distances again, divides edges too, and keeps the first that leaves the least
// length open. Going on from one distance to the next instead would take vertices
// as near an edge that at the right distance are its ends, and cut slivers off
// there; and dividing while hardly anything is merged yet is nearly all the work.
func (r *repair) join() error {
	r.near = float64(r.extent * repairRounding)
	r.weldEqual()
	welded, log := r.m, r.log
	distances := []float64{0, r.o.Near}
	if r.o.Near == 0 {
		distances = distances[:1]
		for _, f := range repairRungs {
			distances = append(distances, float64(f*r.extent))
		}
	}
	attempt := func(near float64, divide bool) (left float64, err error) {
		r.m.Triangles, r.log = slices.Clone(welded.Triangles), log
		r.near = max(near, float64(r.extent*repairRounding))
		if near > 0 {
			r.mergeNear()
		}
		if err := r.heal(divide); err != nil {
			return 0, err
		}
		return r.openLength(), r.ctx.Err()
	}
	for _, near := range distances {
		if left, err := attempt(near, false); err != nil || left == 0 {
			return err
		}
	}
	best, least := *r, math.Inf(1)
	for _, near := range distances {
		left, err := attempt(near, true)
		if err != nil {
			return err
		}
		if left < float64((1-leastClosed)*least) {
			best, least = *r, left
		}
		if left == 0 {
			break
		}
	}
	*r = best
	return nil
}

// openLength returns the length of all open edges, mm.
func (r *repair) openLength() float64 {
	var length sum
	r.m.eachEdge(func(lo, hi int32, halves []int32) {
		if len(halves) == 1 {
			length.add(r.m.Vertices[hi].Sub(r.m.Vertices[lo]).Length())
		}
	})
	return length.value()
}

// openVertices says of each vertex whether it is on an open edge.
func (r *repair) openVertices() []bool {
	open := make([]bool, len(r.m.Vertices))
	r.m.eachEdge(func(lo, hi int32, halves []int32) {
		if len(halves) == 1 {
			open[lo], open[hi] = true, true
		}
	})
	return open
}

// weldEqual merges each vertex on an open edge with the first vertex at the same
// place. Vertices that have triangles all round are not merged with each other:
// two sound shells that touch are two shells.
func (r *repair) weldEqual() {
	open := r.openVertices()
	first := make(map[Vec]int32, len(open)) // only looked up: its order reaches nothing
	// A vertex that is not open comes before one that is, so that the open ones
	// are all merged with the same one.
	for pass := range 2 {
		for v, p := range r.m.Vertices {
			if open[v] != (pass == 1) || !p.finite() {
				continue
			}
			if _, seen := first[p]; !seen {
				first[p] = int32(v)
			}
		}
	}
	to := repairSame(len(open))
	for v, p := range r.m.Vertices {
		if open[v] && first[p] != int32(v) {
			to[v] = first[p]
			r.log.add(VertexWelded, p, 0)
		}
	}
	r.rename(to)
}

func repairSame(n int) []int32 {
	to := make([]int32, n)
	for i := range to {
		to[i] = int32(i)
	}
	return to
}

// rename puts to[v] in the place of vertex v.
func (r *repair) rename(to []int32) {
	for i, t := range r.m.Triangles {
		r.m.Triangles[i] = [3]int32{to[t[0]], to[t[1]], to[t[2]]}
	}
}

// mergeNear merges vertices on open edges that are within r.near of each other.
// In the order of their numbers each goes to the nearest that stays, or stays
// itself, so that chains of near vertices don't run together and none moves
// farther than the distance.
func (r *repair) mergeNear() {
	open := r.openVertices()
	low := r.m.Bounds().Min
	cell := func(p Vec) [3]int64 { // below 2⁴⁶, since r.near is above repairRounding of the extent
		q := p.Sub(low)
		return [3]int64{int64(math.Floor(q[0] / r.near)), int64(math.Floor(q[1] / r.near)), int64(math.Floor(q[2] / r.near))}
	}
	cells := map[[3]int64][]int32{} // only looked up
	to := repairSame(len(open))
	for i, isOpen := range open {
		if !isOpen {
			continue
		}
		if i%repairGrain == 0 && r.ctx.Err() != nil {
			return // what is half merged is thrown away
		}
		v, p := int32(i), r.m.Vertices[i]
		best, least := int32(-1), r.near
		c := cell(p)
		for dx := int64(-1); dx <= 1; dx++ {
			for dy := int64(-1); dy <= 1; dy++ {
				for dz := int64(-1); dz <= 1; dz++ {
					for _, w := range cells[[3]int64{c[0] + dx, c[1] + dy, c[2] + dz}] {
						if d := r.m.Vertices[w].Sub(p).Length(); d < least || best < 0 && d == least {
							best, least = w, d
						}
					}
				}
			}
		}
		if best < 0 {
			cells[c] = append(cells[c], v)
			continue
		}
		to[v] = best
		r.log.add(VertexMerged, p, least)
	}
	r.rename(to)
}
