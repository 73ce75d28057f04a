package solid

// cap closes the part in the plane. Each fan's vertex has one successor in next,
// so the open edges fall into loops, whatever rounding did to their places.
// With shared given, its cap is taken over, turned round.
func (c *half) cap(frame Frame, shared *half) {
	if shared != nil {
		c.takeCap(shared)
		return
	}
	loops := c.capLoops()
	flat := make([][]Point, len(loops))
	for i, l := range loops {
		for _, v := range l {
			flat[i] = append(flat[i], frame.Flatten(c.out.Vertices[v]))
		}
	}
	for _, group := range nested(flat) {
		var region [][]Point
		var vertices []int32
		for _, i := range group {
			region = append(region, flat[i])
			vertices = append(vertices, loops[i]...)
		}
		for _, t := range triangulate(region, 0, nil).triangles {
			c.capped = append(c.capped, [3]int32{vertices[t[0]], vertices[t[1]], vertices[t[2]]})
		}
	}
	c.liftFromRidges()
	c.out.Triangles = append(c.out.Triangles, c.capped...)
	if c.same != nil {
		c.out.dropUnused()
	}
}

// capLoops follows next from edge to edge. Loops of two vertices are left out:
// there the two open edges are each other's opposite already.
func (c *half) capLoops() [][]int32 {
	var loops [][]int32
	done := make(map[int32]bool, len(c.next))
	for _, start := range c.starts {
		if done[start] {
			continue
		}
		var loop []int32
		for v := start; !done[v]; v = c.next[v] {
			done[v] = true
			loop = append(loop, c.name(v))
		}
		if len(loop) > 2 {
			loops = append(loops, loop)
		}
	}
	return loops
}

// name returns the vertex that a copy stands for.
func (c *half) name(v int32) int32 {
	if c.same == nil {
		return v
	}
	return c.same.find(v)
}

// takeCap copies the other part's cap, turned round, edge by crossed edge.
func (c *half) takeCap(other *half) {
	mine := make(map[int32]int32, len(c.crossed))
	for edge, v := range other.crossed {
		mine[v] = c.crossed[edge]
	}
	for _, t := range other.capped {
		c.out.Triangles = append(c.out.Triangles, [3]int32{mine[t[0]], mine[t[2]], mine[t[1]]})
	}
}

// liftFromRidges divides each diagonal of the cap that runs along an edge of the
// surface by a vertex in its middle. Without it that edge would have four
// triangles: a groove whose bottom edge just reaches the plane from below.
func (c *half) liftFromRidges() {
	for len(c.ridges) > 0 {
		owner := map[[2]int32]int{} // diagonal along a ridge → its first triangle
		again := false
		for i := 0; i < len(c.capped) && !again; i++ {
			for k := range 3 {
				t := c.capped[i]
				key := edgeKey(t[k], t[(k+1)%3])
				if !c.ridges[key] {
					continue
				}
				j, seen := owner[key]
				if !seen {
					owner[key] = i
					continue
				}
				c.divide(i, j, key)
				again = true
				break
			}
		}
		if !again {
			return
		}
	}
}

func (c *half) divide(i, j int, key [2]int32) {
	mid := c.add(c.out.Vertices[key[0]].Add(c.out.Vertices[key[1]]).Scale(0.5))
	for _, x := range [2]int{i, j} {
		t := c.capped[x]
		for k := range 3 {
			a, b, d := t[k], t[(k+1)%3], t[(k+2)%3]
			if edgeKey(a, b) == key {
				c.capped[x] = [3]int32{a, mid, d}
				c.capped = append(c.capped, [3]int32{mid, b, d})
				break
			}
		}
	}
}
