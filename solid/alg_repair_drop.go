package solid

import "math"

// dropUnusable is step 1. Triangles with an index out of range or a corner that
// is no number go; unused vertices are counted here and go with compact.
func (r *repair) dropUnusable() error {
	used := make([]bool, len(r.m.Vertices))
	kept := r.m.Triangles[:0]
	for _, t := range r.m.Triangles {
		inRange := true
		for _, v := range t {
			if v < 0 || int(v) >= len(used) {
				inRange = false
			} else {
				used[v] = true
			}
		}
		if !inRange {
			r.log.add(TriangleUnusable, Vec{}, 0)
			continue
		}
		a, b, c := r.m.corners(t)
		if !a.finite() || !b.finite() || !c.finite() {
			r.log.add(TriangleUnusable, repairFinite(a, b, c), 0)
			continue
		}
		kept = append(kept, t)
	}
	r.m.Triangles = kept
	for i, p := range r.m.Vertices {
		if !used[i] {
			r.log.add(VertexUnused, repairFinite(p), 0)
		}
	}
	for _, t := range r.m.Triangles {
		for _, v := range t {
			for _, x := range r.m.Vertices[v] {
				if math.Abs(x) > maxTreeCoordinate {
					return &RepairError{Reason: CoordinateLarge, At: r.m.Vertices[v]}
				}
			}
		}
	}
	r.extent = r.m.Bounds().Size().Length()
	return nil
}

// repairFinite returns the first of the points that is one, else the origin.
func repairFinite(points ...Vec) Vec {
	for _, p := range points {
		if p.finite() {
			return p
		}
	}
	return Vec{}
}

// compact drops the vertices no triangle names any more; the others keep their
// order.
func (r *repair) compact() error {
	index := make([]int32, len(r.m.Vertices))
	for _, t := range r.m.Triangles {
		for _, v := range t {
			index[v] = 1
		}
	}
	n := int32(0)
	for v, used := range index {
		if used == 0 {
			continue
		}
		r.m.Vertices[n], index[v] = r.m.Vertices[v], n
		n++
	}
	r.m.Vertices = r.m.Vertices[:n]
	for i, t := range r.m.Triangles {
		r.m.Triangles[i] = [3]int32{index[t[0]], index[t[1]], index[t[2]]}
	}
	return nil
}

// keep leaves the triangles that say says to keep, in order. The mates are lost.
func (r *repair) keep(say func(t int) bool) {
	kept := r.m.Triangles[:0]
	for i, t := range r.m.Triangles {
		if say(i) {
			kept = append(kept, t)
		}
	}
	r.m.Triangles = kept
}
