package solid

import "slices"

// looseShare is how much of all area open pieces may have that are dropped
// because they can't be closed. A guess: stray facets and leftovers of a trimmed
// surface are far smaller, and a sheet that was meant is not.
const looseShare = 0.01

// repairHole is a simple loop of open half-edges.
type repairHole struct {
	rim   []int32 // half-edges, each begins where the one before ends
	patch int32
	cap   repairCap
}

// closeHoles is step 5.
func (r *repair) closeHoles() error {
	label, n := r.patches()
	shells := r.measurePatches(label, n)
	fill := r.newFiller()
	var holes []repairHole
	open := map[int32]*RepairError{} // by patch: its largest opening
	for _, rim := range r.rims() {
		if err := r.ctx.Err(); err != nil {
			return err
		}
		if len(rim) == 2 { // two edges over the same vertices
			r.pair(rim[0], rim[1])
			continue
		}
		h := repairHole{rim: rim, patch: label[rim[0]/3]}
		s := &shells[h.patch]
		if s.triangles == 1 {
			open[h.patch] = &RepairError{Reason: OpenSurface, At: r.m.Vertices[r.m.tail(rim[0])], Size: 1}
			continue
		}
		area := r.rimArea(rim)
		share := 0.0
		if len(rim) > 3 {
			share = r.shadowShare(s, area, label, h.patch)
		}
		var refusal *RepairError
		if share <= r.o.LargestHole {
			var ok bool
			if h.cap, ok = fill.cap(rim, area); !ok {
				refusal = &RepairError{Reason: HoleUnclosable, Size: float64(len(rim))}
			} else if len(rim) > 3 {
				share = max(share, h.cap.area/(s.area+h.cap.area))
			}
		}
		if share > r.o.LargestHole {
			refusal = &RepairError{Reason: OpenSurface, Size: share}
		}
		if r.finned(rim) {
			refusal = &RepairError{Reason: OpenSurface, Size: 1}
		}
		if refusal == nil {
			holes = append(holes, h)
			continue
		}
		refusal.At = r.m.Vertices[r.m.tail(rim[0])]
		if was := open[h.patch]; was == nil || was.Size < refusal.Size {
			open[h.patch] = refusal
		}
	}
	if err := r.ctx.Err(); err != nil {
		return err
	}
	if err := r.loosen(open, shells); err != nil {
		return err
	}
	for _, h := range holes {
		if open[h.patch] == nil {
			r.close(h)
		}
	}
	r.dropPatches(label, open, shells)
	return nil
}

// finned reports whether a rim runs partly along a crowded edge and partly free:
// round a fin that was too large to drop. Its cap would lie on itself.
func (r *repair) finned(rim []int32) bool {
	over := 0
	for _, h := range rim {
		if r.over[h] {
			over++
		}
	}
	return over > 0 && over < len(rim)
}

// loosen refuses unless all patches that stay open are small beside the rest.
func (r *repair) loosen(open map[int32]*RepairError, shells []repairPatch) error {
	var all, loose sum
	worst := int32(-1)
	for p, s := range shells {
		all.add(s.area)
		if open[int32(p)] != nil {
			loose.add(s.area)
			if worst < 0 || s.area > shells[worst].area {
				worst = int32(p)
			}
		}
	}
	if worst < 0 || loose.value() <= looseShare*all.value() {
		return nil
	}
	refusal := open[worst]
	refusal.Faults = r.m.Check()
	return refusal
}

// dropPatches drops the open patches; label is of the triangles before caps.
func (r *repair) dropPatches(label []int32, open map[int32]*RepairError, shells []repairPatch) {
	if len(open) == 0 {
		return
	}
	index := make([]int32, len(r.m.Triangles))
	told := map[int32]bool{}
	n := int32(0)
	for i, t := range r.m.Triangles {
		if i < len(label) && open[label[i]] != nil {
			index[i] = -1
			if p := label[i]; !told[p] {
				told[p] = true
				r.log.add(LoosePieceDropped, r.m.Vertices[t[0]], shells[p].bounds.Size().Length())
			}
			continue
		}
		index[i] = n
		n++
	}
	for i, at := range index {
		if at < 0 {
			continue
		}
		r.m.Triangles[at] = r.m.Triangles[i]
		for k := range int32(3) {
			g := r.mate[int32(3*i)+k]
			if g >= 0 {
				g = 3*index[g/3] + g%3
			}
			r.mate[3*at+k] = g
		}
	}
	r.m.Triangles, r.mate = r.m.Triangles[:n], r.mate[:3*n]
}

// rims returns the simple loops of open half-edges. A loop is followed through
// the triangles at each vertex, and where it comes back to a vertex it has been
// at, as where two holes touch in a corner, the part between is a loop of its own.
func (r *repair) rims() [][]int32 {
	var rims [][]int32
	done := make([]bool, len(r.mate))
	for first := range int32(len(r.mate)) {
		if r.mate[first] >= 0 || done[first] {
			continue
		}
		var path []int32
		at := map[int32]int{} // place in the path of the half-edge that begins at a vertex
		for h := first; !done[h]; h = r.nextOpen(h) {
			done[h] = true
			v := r.m.tail(h)
			if i, seen := at[v]; seen {
				rims = append(rims, slices.Clone(path[i:]))
				for _, g := range path[i:] {
					delete(at, r.m.tail(g))
				}
				path = path[:i]
			}
			at[v] = len(path)
			path = append(path, h)
		}
		rims = append(rims, path)
	}
	return rims
}

// nextOpen returns the open half-edge that follows an open one round the
// triangles at the vertex between.
func (r *repair) nextOpen(h int32) int32 {
	for h = nextHalf(h); r.mate[h] >= 0; h = nextHalf(r.mate[h]) {
	}
	return h
}

// rimArea returns twice the vector area of a loop; it points out of the hole.
func (r *repair) rimArea(rim []int32) Vec {
	a := r.m.Vertices[r.m.tail(rim[0])]
	var area Vec
	for _, h := range rim {
		p, q := r.m.Vertices[r.m.tail(h)].Sub(a), r.m.Vertices[r.m.head(h)].Sub(a)
		area = area.Add(q.Cross(p))
	}
	return area
}

// repairPatch is what is known of the triangles that hang together.
type repairPatch struct {
	triangles int
	area      float64 // mm²
	bounds    Bounds
	spread    Tensor // Σ a·aᵀ/|a| over the vector areas a, doubled
}

func (r *repair) measurePatches(label []int32, n int) []repairPatch {
	out := make([]repairPatch, n)
	for i, t := range r.m.Triangles {
		s := &out[label[i]]
		a, b, c := r.m.corners(t)
		if s.triangles == 0 {
			s.bounds = Bounds{a, a}
		}
		s.triangles++
		for _, p := range [3]Vec{a, b, c} {
			for k, x := range p {
				s.bounds.Min[k], s.bounds.Max[k] = min(s.bounds.Min[k], x), max(s.bounds.Max[k], x)
			}
		}
		v := b.Sub(a).Cross(c.Sub(a))
		l := v.Length()
		s.area += l / 2
		if l == 0 {
			continue
		}
		for i := range 3 {
			for j := range 3 {
				s.spread[i][j] += float64(v[i] / l * v[j])
			}
		}
	}
	return out
}

// shadowShare returns what share of the patch's shadow along the hole's axis is
// the hole's: of the light that falls on the closed shell from there, how much
// comes in. A closed shell has a shadow of ½ Σ |aᵢ·n| over its vector areas
// (A. Cauchy, "Mémoire sur la rectification des courbes et la quadrature des
// surfaces courbes", 1850), folds counted as often as they lie over each other.
// Where Σ (aᵢ·n)²/|aᵢ|, which is no more, is enough the sum is spared.
func (r *repair) shadowShare(s *repairPatch, area Vec, label []int32, patch int32) float64 {
	hole := area.Length()
	if hole == 0 {
		return 0
	}
	n := area.Unit()
	var least float64
	for i := range 3 {
		for j := range 3 {
			least += float64(s.spread[i][j] * n[i] * n[j])
		}
	}
	share := func(sum float64) float64 { return hole / ((sum + hole) / 2) }
	if few := share(least); few <= r.o.LargestHole {
		return few
	}
	var all sum
	for i, t := range r.m.Triangles[:len(label)] {
		if label[i] == patch {
			a, b, c := r.m.corners(t)
			v := b.Sub(a).Cross(c.Sub(a))
			all.add(max(v.Dot(n), -v.Dot(n)))
		}
	}
	return min(1, share(all.value()))
}

// close puts the cap into its hole.
func (r *repair) close(h repairHole) {
	n := int32(len(h.rim))
	corner := make([]int32, n, n+1) // backwards round the rim: the way a cap runs
	length := 0.0
	for i, g := range h.rim {
		corner[(n-int32(i))%n] = r.m.tail(g)
		length += r.m.Vertices[r.m.head(g)].Sub(r.m.Vertices[r.m.tail(g)]).Length()
	}
	r.log.add(HoleClosed, r.m.Vertices[r.m.tail(h.rim[0])], length)
	if h.cap.middle != nil {
		corner = append(corner, int32(len(r.m.Vertices)))
		r.m.Vertices = append(r.m.Vertices, *h.cap.middle)
	}
	inner := map[[2]int32]int32{} // half-edge of the cap by the corners it joins
	for _, t := range h.cap.triangles {
		first := int32(len(r.mate))
		r.m.Triangles = append(r.m.Triangles, [3]int32{corner[t[0]], corner[t[1]], corner[t[2]]})
		r.mate = append(r.mate, -1, -1, -1)
		for k := range int32(3) {
			from, to := t[k], t[(k+1)%3]
			if from < n && to == (from+1)%n {
				r.pair(first+k, h.rim[n-1-from])
			} else if g, seen := inner[[2]int32{to, from}]; seen {
				r.pair(first+k, g)
			} else {
				inner[[2]int32{from, to}] = first + k
			}
		}
	}
}
