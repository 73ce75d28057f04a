package solid

import (
	"context"
	"math"
	"sync/atomic"
)

// Clearance is the least distance between two solids.
type Clearance struct {
	Distance float64
	// Triangles are a triangle of the first solid and one of the second that are
	// nearest to each other, the lowest of several; At are their points.
	Triangles [2]int32
	At        [2]Vec
	// Holds reports that one solid holds the other and their surfaces don't meet:
	// Distance is 0 though the points of At are apart.
	Holds bool
}

// Clearance returns the least distance between two solids, and where it is. It is
// 0 where they meet, with a pair of triangles that do, and 0 where one holds the
// other. Both must be closed, the error is otherwise a [*NotSolidError], and not
// empty, else it is a [*ValueError].
//
// Whether they meet is exact. A distance is that of two points on the triangles,
// to some roundings of their coordinates' distance.
func (k Kernel) Clearance(ctx context.Context, a, b Mesh) (Clearance, error) {
	if a.Empty() || b.Empty() {
		return Clearance{}, &ValueError{"number of triangles", 0, "positive"}
	}
	trees, err := k.closedTrees(ctx, a, b)
	if err != nil {
		return Clearance{}, err
	}
	c, err := k.gap(ctx, trees[0], trees[1])
	if err != nil || c.Distance == 0 {
		return c, err
	}
	for i := range 2 {
		inner, err := k.firstWithin(ctx, trees[i].mesh, i, nil, trees[1-i])
		if err != nil {
			return Clearance{}, err
		}
		if inner >= 0 {
			c.Distance, c.Holds = 0, true
		}
	}
	return c, nil
}

// gapSearch looks for the nearest triangles of two trees. The tasks share the
// least distance found so far, to leave out what is farther away; what is as far
// as the least of all is never left out, so the result doesn't depend on who
// found what first.
type gapSearch struct {
	a, b  *Tree
	least atomic.Uint64 // bits of a float64, which for positive ones are in order
	slack float64
}

// gapRounding bounds, in units of the extent of both solids, what the computed
// distance of two triangles may be less than that of their boxes: both come from
// fewer than 32 roundings.
const gapRounding = 32 * 0x1p-53

func (k Kernel) gap(ctx context.Context, a, b *Tree) (Clearance, error) {
	s := &gapSearch{a: a, b: b}
	whole, other := a.root().box, b.root().box
	whole.take(&other)
	// The extent, and the place of the solids: far from 0 points on a triangle
	// are rounded to the size of its coordinates.
	for c := range 3 {
		s.slack = max(s.slack, math.Abs(whole[0][c]), math.Abs(whole[1][c]))
	}
	s.slack *= gapRounding
	s.least.Store(math.Float64bits(math.Inf(1)))
	tasks := [][2]treePart{{a.root(), b.root()}}
	p := treePairs{a: a, b: b}
	first := s.greedy(&p, tasks[0])
	s.lower(first.Distance)
	for n := 0; n < 64 && len(tasks) < treeTasks; n++ {
		var finer [][2]treePart
		for _, t := range tasks {
			switch {
			case !s.may(&t[0].box, &t[1].box):
			case p.leaves(&t[0], &t[1]):
				finer = append(finer, t)
			default:
				p.divide(&t[0], &t[1], func(x, y *treePart) { finer = append(finer, [2]treePart{*x, *y}) })
			}
		}
		tasks = finer
	}
	found := make([]Clearance, len(tasks))
	err := k.each(ctx, "clearance", len(tasks), 1, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			found[i] = s.search(ctx, &p, tasks[i])
		}
	})
	for _, c := range found {
		if c.before(first) {
			first = c
		}
	}
	return first, err
}

// before orders by distance, then by triangles.
func (c Clearance) before(d Clearance) bool {
	if c.Distance != d.Distance {
		return c.Distance < d.Distance
	}
	if c.Triangles[0] != d.Triangles[0] {
		return c.Triangles[0] < d.Triangles[0]
	}
	return c.Triangles[1] < d.Triangles[1]
}

// may reports whether two boxes are near enough to hold the least distance.
func (s *gapSearch) may(b, c *treeBox) bool {
	var sum float64
	for k := range 3 {
		if d := max(b[0][k]-c[1][k], c[0][k]-b[1][k]); d > 0 {
			sum += float64(d * d)
		}
	}
	limit := math.Float64frombits(s.least.Load()) + s.slack
	return sum <= float64(limit*limit)
}

// lower makes the shared distance less, if it is.
func (s *gapSearch) lower(d float64) {
	for next := math.Float64bits(d); ; {
		old := s.least.Load()
		if next >= old || s.least.CompareAndSwap(old, next) {
			return
		}
	}
}

// greedy goes down to one pair of leaves, the nearer part each time: a distance
// to start from.
func (s *gapSearch) greedy(p *treePairs, at [2]treePart) Clearance {
	for !p.leaves(&at[0], &at[1]) {
		least, next := math.Inf(1), at
		p.divide(&at[0], &at[1], func(x, y *treePart) {
			var sum float64
			for k := range 3 {
				d := max(x.box[0][k]-y.box[1][k], y.box[0][k]-x.box[1][k], 0)
				sum += float64(d * d)
			}
			if sum < least {
				least, next = sum, [2]treePart{*x, *y}
			}
		})
		at = next
	}
	best := Clearance{Distance: math.Inf(1)}
	s.leaves(&at[0], &at[1], &best)
	return best
}

// search returns the nearest pair of a task that may be the nearest of all.
func (s *gapSearch) search(ctx context.Context, p *treePairs, task [2]treePart) Clearance {
	best, looks := Clearance{Distance: math.Inf(1)}, 0
	var down func(x, y *treePart)
	down = func(x, y *treePart) {
		if !s.may(&x.box, &y.box) {
			return
		}
		if looks++; looks%treeLooks == 0 && ctx.Err() != nil {
			looks = -1
			return
		}
		if p.leaves(x, y) {
			s.leaves(x, y, &best)
			return
		}
		p.divide(x, y, down)
	}
	down(&task[0], &task[1])
	return best
}

// leaves looks at the pairs of two leaves.
func (s *gapSearch) leaves(x, y *treePart, best *Clearance) {
	for i := x.at; i < x.at+x.count; i++ {
		box := s.a.faceBox(i)
		for j := y.at; j < y.at+y.count; j++ {
			other := s.b.faceBox(j)
			if !s.may(&box, &other) {
				continue
			}
			t, u := s.a.mesh.triangle(s.a.faces[i]), s.b.mesh.triangle(s.b.faces[j])
			c := Clearance{Triangles: [2]int32{s.a.order[i], s.b.order[j]}}
			c.Distance, c.At = trianglesApart(t, u)
			if box.meets(&other) && c.Distance > 0 && contactOf(t, u) != 0 {
				c.Distance = 0
				c.At = commonPoint(t, u, c.At)
			}
			if c.before(*best) {
				*best = c
				s.lower(c.Distance)
			}
		}
	}
}
