package solid

// creases decides which vertices stay when flat ground is divided anew: those
// where other than two creases meet, those of regions left as they are, and of a
// line of creases between two such vertices as many as keep it within reach.
type creases struct {
	*flatGround
	leaving [][2]int32 // of a vertex: two of the creases that leave it
	count   []int32    // of a vertex: how many there are
	keep    []bool     // of a vertex
}

// newCreases decides for the given regions to be left as they are.
func newCreases(g *flatGround, frozen []bool) *creases {
	n := len(g.mesh.Vertices)
	c := &creases{g, make([][2]int32, n), make([]int32, n), make([]bool, n)}
	for h := range int32(len(g.opposite)) {
		if v := g.mesh.tail(h); g.crease(h) {
			if c.count[v] < 2 {
				c.leaving[v][c.count[v]] = h
			}
			c.count[v]++
		}
	}
	for v, creases := range c.count {
		c.keep[v] = creases != 0 && creases != 2
	}
	for t, r := range g.region {
		if frozen[r] {
			for _, v := range g.mesh.Triangles[t] {
				c.keep[v] = true
			}
		}
	}
	// 1. Lines from one vertex that stays to the next; 2. rings without one.
	done := make([]bool, len(g.opposite))
	for _, ring := range [2]bool{false, true} {
		for h := range int32(len(g.opposite)) {
			if !done[h] && c.crease(h) && (ring || c.keep[g.mesh.tail(h)]) {
				c.line(h, done)
			}
		}
	}
	return c
}

// line follows creases from h until a vertex that stays, or round to h, and
// decides on the vertices in between.
func (c *creases) line(first int32, done []bool) {
	line := []int32{c.mesh.tail(first)}
	for h := first; ; {
		done[h], done[c.opposite[h]] = true, true
		v := c.mesh.head(h)
		line = append(line, v)
		if c.keep[v] || v == line[0] {
			break
		}
		back := c.opposite[h]
		h = c.leaving[v][0]
		if h == back {
			h = c.leaving[v][1]
		}
	}
	last := len(line) - 1
	if line[0] == line[last] && !c.keep[line[0]] {
		// A ring: it keeps its first vertex and the one farthest from it.
		c.keep[line[0]] = true
		far := c.farthest(line, 0, 0)
		c.keep[line[far]] = true
		c.straighten(line, 0, far)
		c.straighten(line, far, last)
		return
	}
	c.straighten(line, 0, last)
}

// straighten keeps as many of the vertices between two of a line as it takes for
// all to lie within reach of the straight edges that are left, each measured
// against its own edge alone. Source: D. H. Douglas and T. K. Peucker,
// "Algorithms for the reduction of the number of points required to represent a
// digitized line or its caricature", Cartographica 10 (1973) 112–122.
func (c *creases) straighten(line []int32, from, to int) {
	type stretch struct{ from, to int }
	todo := []stretch{{from, to}}
	for len(todo) > 0 {
		s := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if s.to-s.from < 2 || c.isStraight(line, s.from, s.to) {
			continue
		}
		mid := c.farthest(line, s.from, s.to)
		c.keep[line[mid]] = true
		todo = append(todo, stretch{s.from, mid}, stretch{mid, s.to})
	}
}

// isStraight reports whether the vertices of a stretch follow each other along
// the edge between its ends, within reach of it.
func (c *creases) isStraight(line []int32, from, to int) bool {
	a, b := c.mesh.Vertices[line[from]], c.mesh.Vertices[line[to]]
	along := b.Sub(a)
	length := along.Length()
	before := 0.0
	for _, v := range line[from+1 : to] {
		p := c.mesh.Vertices[v].Sub(a)
		at := p.Dot(along)
		if !(p.Cross(along).Length() <= c.reach*length) || at <= before || at >= along.Dot(along) {
			return false
		}
		before = at
	}
	return true
}

// farthest returns the place, strictly between two of a line, of the vertex
// farthest from the edge between them; of the first vertex where they are the
// same.
func (c *creases) farthest(line []int32, from, to int) int {
	if to == from {
		to = len(line) - 1
	}
	a, b := c.mesh.Vertices[line[from]], c.mesh.Vertices[line[to]]
	best, most := from+1, -1.0
	for i := from + 1; i < to; i++ {
		p := c.mesh.Vertices[line[i]]
		if d := nearestSquare(p, nearestOnEdge(p, a, b)); d > most {
			best, most = i, d
		}
	}
	return best
}
