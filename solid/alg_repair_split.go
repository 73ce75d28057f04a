package solid

// splitPinched is step 6: every vertex becomes as many as there are fans of
// triangles at it, and an edge over the same two vertices as another is divided
// in the middle. From here on the indices say what the mates said.
func (r *repair) splitPinched() error {
	if err := r.closed(); err != nil {
		return err
	}
	fans := newSets(len(r.mate))
	for h, g := range r.mate {
		fans.join(int32(h), nextHalf(g)) // both are corners at the tail of h
	}
	taken := make([]bool, len(r.m.Vertices))
	vertex := make([]int32, len(r.mate)) // of a fan, by its lowest corner
	for c := range int32(len(fans)) {
		root := fans.find(c) // never above c
		v := r.m.tail(c)
		if root == c {
			if taken[v] {
				r.log.add(VertexSplit, r.m.Vertices[v], 0)
				r.m.Vertices = append(r.m.Vertices, r.m.Vertices[v])
				v = int32(len(r.m.Vertices)) - 1
			} else {
				taken[v] = true
			}
			vertex[c] = v
		}
	}
	for c := range int32(len(fans)) {
		r.m.Triangles[c/3][c%3] = vertex[fans.find(c)]
	}
	for r.divideDouble() {
	}
	return nil
}

// closed refuses where a half-edge has no mate: an edge where an odd number of
// triangles met and no patch could go.
func (r *repair) closed() error {
	for h, g := range r.mate {
		if g < 0 {
			v := r.m.tail(int32(h))
			return r.refuse(FaultsRemain, r.m.Vertices[v], 0)
		}
	}
	return nil
}

// divideDouble divides all but one of the edges that join the same two vertices,
// at most one of a triangle, and reports whether there were any.
func (r *repair) divideDouble() bool {
	var double []int32
	r.m.eachEdge(func(_, _ int32, halves []int32) {
		if len(halves) == 2 {
			return
		}
		for _, h := range halves[1:] {
			if h < r.mate[h] {
				double = append(double, h)
			}
		}
	})
	touched := map[int32]bool{}
	for _, h := range double {
		g := r.mate[h]
		if touched[h/3] || touched[g/3] {
			continue
		}
		touched[h/3], touched[g/3] = true, true
		a, b := r.m.Vertices[r.m.tail(h)], r.m.Vertices[r.m.head(h)]
		middle := int32(len(r.m.Vertices))
		at := a.Scale(0.5).Add(b.Scale(0.5))
		r.m.Vertices = append(r.m.Vertices, at)
		r.log.add(EdgeDivided, at, 0)
		//  tail h ── middle ── head h: each of the two triangles keeps its first
		//  half, and a new one gets the second.
		h2, g2 := r.halve(h, middle), r.halve(g, middle)
		r.pair(h, g2)
		r.pair(g, h2)
	}
	return len(double) > 0
}

// halve ends half-edge h at the middle and gives the rest to a new triangle,
// whose half-edge from the middle to the old head is returned.
func (r *repair) halve(h, middle int32) int32 {
	head, apex := r.m.head(h), r.m.head(nextHalf(h))
	first := int32(len(r.mate))
	r.m.Triangles = append(r.m.Triangles, [3]int32{middle, head, apex})
	r.mate = append(r.mate, -1, -1, -1)
	r.pair(first+1, r.mate[nextHalf(h)])
	r.m.Triangles[h/3][(h+1)%3] = middle
	r.pair(nextHalf(h), first+2)
	return first
}
