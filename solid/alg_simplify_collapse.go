package solid

import (
	"cmp"
	"context"
	"slices"
)

// collapser draws edges together, in rounds. In each round the edges that change
// least are gone through in order, and of those whose stars have no vertex in
// common all are tried side by side; so the result is the same for any number of
// workers.
type collapser struct {
	Kernel
	limit, slack float64
	points       []Vec
	triangles    [][3]int32 // −1 where gone
	twin         []int32
	leaving      []int32 // of a vertex: a half-edge that leaves it
	quadrics     []quadric
	drift        []drift
	middle       Vec // quadrics count from here

	cost    []float64 // of an edge, by its lower half-edge
	waiting []int32   // edges to be tried
	listed  []bool    // whether an edge is among them
	stale   []int32   // edges whose cost has changed
	marked  []int32   // of a vertex: the last round that took it
}

// collapse draws edges together while no point drifts farther than limit, first
// being how far the surface is off already. Components that are fixed stay as they
// are; label says of which each triangle is.
func (k Kernel) collapse(ctx context.Context, m Mesh, limit, first float64, label []int32, fixed []bool) (collapsed, error) {
	c, err := newCollapser(k, m, limit, first)
	if err != nil {
		return collapsed{}, err
	}
	for h := range int32(len(c.twin)) {
		if h < c.twin[h] && !fixed[label[h/3]] {
			c.list(h)
		}
	}
	var out collapsed
	for round := int32(1); len(c.waiting) > 0; round++ {
		n, err := c.round(ctx, round)
		if err != nil {
			return collapsed{}, err
		}
		out.edges += n
	}
	for v, h := range c.leaving {
		if h >= 0 {
			out.bound = max(out.bound, c.drift[v].size())
		}
	}
	out.mesh.Vertices = c.points
	for i, t := range c.triangles {
		if t[0] >= 0 {
			out.mesh.Triangles = append(out.mesh.Triangles, t)
			out.from = append(out.from, int32(i))
		}
	}
	out.mesh.dropUnused()
	return out, nil
}

// collapsed is what is left.
type collapsed struct {
	mesh  Mesh
	from  []int32 // of a triangle: its number before
	edges int     // drawn together
	bound float64 // no point drifted farther
}

func newCollapser(k Kernel, m Mesh, limit, first float64) (*collapser, error) {
	twin, err := m.Opposites()
	if err != nil {
		return nil, err
	}
	n := len(m.Vertices)
	b := m.Bounds()
	c := &collapser{
		Kernel: k, limit: limit, slack: flatReach(m) / collapseSlack,
		points: slices.Clone(m.Vertices), triangles: slices.Clone(m.Triangles), twin: twin,
		leaving: make([]int32, n), quadrics: make([]quadric, n), drift: make([]drift, n),
		middle: b.Min.Add(b.Max).Scale(0.5),
		cost:   make([]float64, len(twin)), listed: make([]bool, len(twin)), marked: make([]int32, n),
	}
	for v := range c.leaving {
		c.leaving[v] = -1
		c.drift[v] = drift{Vec{-first, -first, -first}, Vec{first, first, first}}
	}
	for h := range int32(len(twin)) {
		c.leaving[c.tail(h)] = h
	}
	for _, t := range m.Triangles {
		a, b, d := m.corners(t)
		q := newQuadric(a.Sub(c.middle), b.Sub(c.middle), d.Sub(c.middle))
		for _, v := range t {
			c.quadrics[v].add(&q)
		}
	}
	return c, nil
}

// collapseSlack: a few roundings are a thousandth of the reach.
const collapseSlack = 1000

func (c *collapser) tail(h int32) int32 { return c.triangles[h/3][h%3] }

// around calls visit for the half-edges that leave v.
func (c *collapser) around(v int32, visit func(h int32)) {
	first := c.leaving[v]
	for h := first; ; {
		visit(h)
		if h = c.twin[prevHalf(h)]; h == first {
			return
		}
	}
}

// list has the edge of h looked at again.
func (c *collapser) list(h int32) {
	h = min(h, c.twin[h])
	c.stale = append(c.stale, h)
	if !c.listed[h] {
		c.listed[h] = true
		c.waiting = append(c.waiting, h)
	}
}

const (
	// collapseGrain is the number of edges of a run, of some microseconds each.
	collapseGrain = 1 << 8
	// collapseShare is the part of the waiting edges that one round goes through:
	// few enough that they come nearly in the order of their cost.
	collapseShare = 4
	// collapseFew are always gone through, collapseSample is the least number from
	// which a part is told by a sample of about as many.
	collapseFew, collapseSample = 64, 1024
)

// trial is an edge to be drawn together.
type trial struct {
	h     int32
	star  star
	drift drift
	fine  bool
}

// round tries some edges and returns how many were drawn together.
func (c *collapser) round(ctx context.Context, number int32) (int, error) {
	slices.Sort(c.stale)
	stale := slices.Compact(c.stale)
	err := c.each(ctx, "cost", len(stale), collapseGrain, func(lo, hi int) {
		for _, h := range stale[lo:hi] {
			if c.alive(h) {
				_, c.cost[h] = c.bestPlace(h)
			}
		}
	})
	if err != nil {
		return 0, err
	}
	c.stale = c.stale[:0]
	trials := c.choose(number)
	err = c.each(ctx, "collapse", len(trials), collapseGrain/8, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			t := &trials[i]
			t.star.w, _ = c.bestPlace(t.h)
			if c.sound(&t.star) {
				t.drift, t.fine = c.driftOf(&t.star)
			}
		}
	})
	if err != nil {
		return 0, err
	}
	done := 0
	for i := range trials {
		if trials[i].fine {
			c.apply(&trials[i])
			done++
		}
	}
	return done, nil
}

// alive reports whether h is the lower half-edge of an edge that is there.
func (c *collapser) alive(h int32) bool { return c.triangles[h/3][0] >= 0 && h < c.twin[h] }

// choose takes edges from those waiting: the cheapest, in order, unless their star
// has a vertex that one before them has.
func (c *collapser) choose(number int32) []trial {
	waiting := c.waiting[:0]
	for _, h := range c.waiting {
		if c.alive(h) {
			waiting = append(waiting, h)
		} else {
			c.listed[h] = false
		}
	}
	looked := c.cheapest(waiting)
	var trials []trial
	var s star
	left := waiting[:0]
	for i, h := range waiting {
		if i >= looked {
			left = append(left, waiting[i:]...)
			break
		}
		if !c.gather(&s, h) {
			c.listed[h] = false
			continue
		}
		taken := c.marked[s.u] == number || c.marked[s.v] == number
		for _, r := range s.ring {
			taken = taken || c.marked[r] == number
		}
		if taken {
			left = append(left, h)
			continue
		}
		c.marked[s.u], c.marked[s.v] = number, number
		for _, r := range s.ring {
			c.marked[r] = number
		}
		c.listed[h] = false
		trials = append(trials, trial{h: h, star: star{u: s.u, v: s.v, ring: slices.Clone(s.ring), atU: s.atU}})
	}
	c.waiting = left
	return trials
}

// cheapest brings about the cheapest part of the edges to the front, in order, and
// returns how many they are. Where that part ends is told by a sample: sorting all
// of them in every round took a fifth of the time.
func (c *collapser) cheapest(edges []int32) int {
	looked := len(edges)
	if step := looked / collapseSample; step > 1 {
		sample := make([]float64, 0, collapseSample+1)
		for i := 0; i < len(edges); i += step {
			sample = append(sample, c.cost[edges[i]])
		}
		slices.Sort(sample)
		looked = 0
		for i, h := range edges {
			if c.cost[h] <= sample[len(sample)/collapseShare] {
				edges[looked], edges[i] = h, edges[looked]
				looked++
			}
		}
	}
	slices.SortFunc(edges[:looked], func(a, b int32) int {
		return cmp.Or(cmp.Compare(c.cost[a], c.cost[b]), cmp.Compare(a, b))
	})
	if looked < len(edges) {
		return looked
	}
	return min(looked, max(collapseFew, looked/collapseShare))
}

// collapseLength weighs the square of an edge's length, over its part of the
// area, against the error: so little that it decides between equals only, the
// shorter first.
const collapseLength = 1e-9

// bestPlace returns where the vertex of a collapsed edge goes, and the cost: the
// least error, or one of the ends where it is as good.
func (c *collapser) bestPlace(h int32) (Vec, float64) {
	u, v := c.tail(h), c.tail(c.twin[h])
	q := c.quadrics[u]
	q.add(&c.quadrics[v])
	a, b := c.points[u].Sub(c.middle), c.points[v].Sub(c.middle)
	length := float64(collapseLength * q.area * nearestSquare(a, b))
	place := q.best(a.Add(b).Scale(0.5))
	least := q.at(place) + length
	for _, end := range [2]Vec{a, b} {
		if cost := q.at(end); cost < least {
			place, least = end, cost
		}
	}
	switch place {
	case a:
		return c.points[u], least + length
	case b:
		return c.points[v], least + length
	}
	return place.Add(c.middle), least + length
}

// apply makes u and v one, at w, and has all edges near it looked at again.
func (c *collapser) apply(t *trial) {
	h, o := t.h, c.twin[t.h]
	u, v := t.star.u, t.star.v
	hn, hp, on, op := c.twin[nextHalf(h)], c.twin[prevHalf(h)], c.twin[nextHalf(o)], c.twin[prevHalf(o)]
	x, y := c.tail(prevHalf(h)), c.tail(prevHalf(o))
	var turn []int32
	c.around(v, func(g int32) { turn = append(turn, g) })
	for _, g := range turn {
		c.triangles[g/3][g%3] = u
	}
	c.twin[hn], c.twin[hp], c.twin[on], c.twin[op] = hp, hn, op, on
	c.triangles[h/3], c.triangles[o/3] = [3]int32{-1, -1, -1}, [3]int32{-1, -1, -1}
	c.leaving[u], c.leaving[v], c.leaving[x], c.leaving[y] = hp, -1, hn, on
	c.points[u], c.drift[u] = t.star.w, t.drift
	c.quadrics[u].add(&c.quadrics[v])
	for _, r := range t.star.ring {
		c.around(r, c.list)
	}
}
