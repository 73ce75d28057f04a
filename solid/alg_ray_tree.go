package solid

import (
	"math"
	"slices"
)

// FirstHit returns the first hit of a ray on the surface, the lower triangle
// where two are hit at once. It can't slip between two triangles that share an
// edge.
func (t *Tree) FirstHit(r Ray) (Hit, bool) {
	return t.firstHit(&r, -1, false)
}

// firstHit can leave one triangle out and look only for places where the ray
// leaves the solid.
func (t *Tree) firstHit(r *Ray, without int32, leaving bool) (Hit, bool) {
	if len(t.nodes) == 0 || r.along == 0 {
		return Hit{}, false
	}
	w := r.walk(&t.bounds)
	length := math.Abs(r.along)
	// Everything here is in steps along axis[2]: T·length.
	hit, best := Hit{Triangle: -1}, r.reach*length
	var stack [treeDepth]struct {
		node int32
		near float64
	}
	size, at := 0, int32(0)
	for {
		node := &t.nodes[at]
		n0, f0 := w.cross(&node.box[0])
		n1, f1 := w.cross(&node.box[1])
		if n0 < 0 {
			n0 = 0
		}
		if n1 < 0 {
			n1 = 0
		}
		first, next := int32(-1), int32(-1)
		var nextNear float64
		in0, in1 := n0 <= f0 && n0 <= best, n1 <= f1 && n1 <= best
		if in0 && node.count[0] > 0 {
			best = t.hitLeaf(r, node.at[0], node.count[0], without, leaving, &hit, best)
			in0 = false
		}
		if in1 && node.count[1] > 0 {
			if n1 <= best {
				best = t.hitLeaf(r, node.at[1], node.count[1], without, leaving, &hit, best)
			}
			in1 = false
		}
		switch {
		case in0 && in1:
			first, next, nextNear = node.at[0], node.at[1], n1
			if n1 < n0 {
				first, next, nextNear = next, first, n0
			}
			stack[size].node, stack[size].near = next, nextNear
			size++
		case in0:
			first = node.at[0]
		case in1:
			first = node.at[1]
		}
		for first < 0 && size > 0 {
			size--
			if stack[size].near <= best {
				first = stack[size].node
			}
		}
		if first < 0 {
			break
		}
		at = first
	}
	if hit.Triangle < 0 {
		return Hit{}, false
	}
	return r.finish(hit), true
}

func (t *Tree) hitLeaf(r *Ray, at, count, without int32, leaving bool, hit *Hit, best float64) float64 {
	v := t.mesh.Vertices
	for i := at; i < at+count; i++ {
		f := &t.faces[i]
		s, out, met := r.meet(&v[f[0]], &v[f[1]], &v[f[2]])
		if !met || leaving && !out {
			continue
		}
		if r.along < 0 {
			s = -s
		}
		if s < 0 || s > best {
			continue
		}
		if tri := t.order[i]; tri != without && (s < best || hit.Triangle < 0 || tri < hit.Triangle) {
			*hit, best = Hit{T: s, Triangle: tri, Leaving: out}, s
		}
	}
	return best
}

// finish turns a hit from steps along axis[2] into the ray's own measure.
func (r *Ray) finish(h Hit) Hit {
	h.T /= math.Abs(r.along)
	for k := range 3 {
		h.At[k] = r.origin[k] + float64(h.T*r.direction[k])
	}
	return h
}

// cross returns where the ray enters and leaves a box, in steps along axis[2].
// A NaN, which is what a ray along a face of the box makes, moves neither.
func (w *rayWalk) cross(b *treeBox) (near, far float64) {
	near, far = math.Inf(-1), math.Inf(1)
	for k := range 3 {
		s := w.sign[k] & 1
		if n := (b[s][k] - w.near[k]) * w.inverse[k]; n > near {
			near = n
		}
		if f := (b[1-s][k] - w.far[k]) * w.inverse[k]; f < far {
			far = f
		}
	}
	return near, far
}

// Hits returns every hit of a ray, by T, then by triangle. On a closed mesh the
// whole line enters as often as it leaves, through edges and corners too; a line
// that only touches one may do both there or neither.
func (t *Tree) Hits(r Ray) []Hit {
	if len(t.nodes) == 0 || r.along == 0 {
		return nil
	}
	var hits []Hit
	w := r.walk(&t.bounds)
	limit := r.reach * math.Abs(r.along)
	v := t.mesh.Vertices
	stack := make([]int32, 1, treeDepth)
	for len(stack) > 0 {
		node := &t.nodes[stack[len(stack)-1]]
		stack = stack[:len(stack)-1]
		for k := range 2 {
			near, far := w.cross(&node.box[k])
			if !(near <= far && far >= 0 && near <= limit) {
				continue
			}
			if node.count[k] == 0 {
				stack = append(stack, node.at[k])
				continue
			}
			for i := node.at[k]; i < node.at[k]+node.count[k]; i++ {
				f := &t.faces[i]
				s, out, met := r.meet(&v[f[0]], &v[f[1]], &v[f[2]])
				if r.along < 0 {
					s = -s
				}
				if met && s >= 0 && s <= limit {
					hits = append(hits, r.finish(Hit{T: s, Triangle: t.order[i], Leaving: out}))
				}
			}
		}
	}
	slices.SortFunc(hits, func(a, b Hit) int {
		switch {
		case a.T < b.T:
			return -1
		case a.T > b.T:
			return 1
		default:
			return int(a.Triangle) - int(b.Triangle)
		}
	})
	return hits
}
